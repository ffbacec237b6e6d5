#include "wire/settled.hpp"

#include <fmt/format.h>

#include <charconv>
#include <cmath>
#include <string_view>

#include "domain/event_fields.hpp"

namespace dryclock::wire {
namespace {

// Fifteen digits from here on need no power of ten beyond 1e22, the last that is an exact double.
constexpr double least = 1e-7;

double settled(double number) {
  if (std::abs(number) < least) {
    return 0.0;
  }
  const auto text = fmt::format("{:.15g}", number);
  double out = number;
  std::from_chars(text.data(), text.data() + text.size(), out);
  return out;
}

// Walks the fields as the reader and the writer do.
class Settler {
 public:
  void type(std::string_view /*name*/, std::string_view /*what*/) const {}
  void apart(std::string_view /*name*/, std::string_view /*what*/) const {}
  void operator()(std::string_view /*name*/, auto& value, const auto&... /*marks*/) { settle(value); }
  void optional(std::string_view /*name*/, auto& value, const auto&... /*marks*/) { settle(value); }

 private:
  void settle(double& number) { number = settled(number); }
  void settle(std::optional<double>& number) {
    if (number) {
      settle(*number);
    }
  }
  template <class Shape>
  requires std::is_class_v<Shape>
  void settle(std::vector<Shape>& shapes) {
    for (auto& shape : shapes) {
      visit_fields(*this, shape);
    }
  }
  template <class Other>
  void settle(Other& /*value*/) {}
};

}  // namespace

void settle(EventDetail& detail) {
  Settler settler;
  std::visit([&](auto& fields) { visit_fields(settler, fields); }, detail);
}

}  // namespace dryclock::wire
