// Writes JSON text front to back. Numbers are the shortest that read back the same and look as people write
// them (22.75); what is not a number is null; text that is not UTF-8 is mended with U+FFFD.
#pragma once

#include <concepts>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <utility>

#include "base/time.hpp"

namespace dryclock::wire {

class JsonWriter {
 public:
  void begin_object() { open('{'); }
  void end_object() { text_ += '}'; }
  void begin_array() { open('['); }
  void end_array() { text_ += ']'; }
  void key(std::string_view name);

  void value(std::string_view text);
  void value(const char* text) { value(std::string_view{text}); }
  void value(const std::string& text) { value(std::string_view{text}); }
  void value(double number);
  void value(std::same_as<bool> auto truth) { raw(truth ? "true" : "false"); }
  void value(std::integral auto number) requires(!std::same_as<decltype(number), bool> &&
                                                 !std::same_as<decltype(number), char>) {
    raw(std::to_string(number));
  }
  void value(Time t) { value(std::string_view{to_rfc3339(t)}); }
  void null() { raw("null"); }
  template <class T>
  void value(const std::optional<T>& maybe) {
    if (maybe) {
      value(*maybe);
    } else {
      null();
    }
  }
  // Text that is one JSON value already.
  void raw(std::string_view json);

  template <class T>
  void field(std::string_view name, const T& what) {
    key(name);
    value(what);
  }

  [[nodiscard]] std::string text() && { return std::move(text_); }

 private:
  void open(char bracket);
  void separate();
  void quote(std::string_view text);

  std::string text_;
};

}  // namespace dryclock::wire
