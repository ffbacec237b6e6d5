#include "cli/event_text.hpp"

#include <fmt/format.h>

#include "base/time.hpp"
#include "domain/event_fields.hpp"
#include "domain/names.hpp"

namespace dryclock::cli {
namespace {

class FieldText {
 public:
  void type(std::string_view /*name*/, std::string_view /*what*/) const {}
  void apart(std::string_view /*name*/, std::string_view /*what*/) const {}
  void flat(const auto& what) { visit_fields(*this, what); }
  void operator()(std::string_view name, const auto& what, const auto&... /*marks*/) {
    const auto text = text_of(what);
    if (!text.empty()) {
      text_ += fmt::format("{}{} {}", text_.empty() ? "" : ", ", name, text);
    }
  }
  void optional(std::string_view name, const auto& what, const auto&... /*marks*/) { (*this)(name, what); }

  [[nodiscard]] std::string text() && { return std::move(text_); }

 private:
  static std::string text_of(const std::string& text) { return text; }
  static std::string text_of(bool truth) { return truth ? "true" : "false"; }
  static std::string text_of(std::integral auto number) { return std::to_string(number); }
  static std::string text_of(double number) { return fmt::format("{:.4g}", number); }
  static std::string text_of(Time time) { return to_rfc3339(time); }
  template <class E>
  requires std::is_enum_v<E>
  static std::string text_of(E value) { return std::string{name_of(value)}; }
  template <class T>
  static std::string text_of(const std::optional<T>& maybe) {
    return maybe ? text_of(*maybe) : "";
  }
  template <class T>
  static std::string text_of(const std::vector<T>& list) {
    std::string all;
    for (const auto& one : list) {
      all += (all.empty() ? "" : " + ") + text_of(one);
    }
    return all;
  }
  template <class T>
  requires std::is_class_v<T>
  static std::string text_of(const T& what) {
    FieldText fields;
    visit_fields(fields, what);
    return "(" + std::move(fields).text() + ")";
  }

  std::string text_;
};

}  // namespace

std::string event_text(const EventDetail& detail) {
  FieldText fields;
  std::visit([&](const auto& told) { visit_fields(fields, told); }, detail);
  return std::move(fields).text();
}

}  // namespace dryclock::cli
