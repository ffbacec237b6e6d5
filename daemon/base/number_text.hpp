// Numbers as text tells them.
#pragma once

#include <charconv>
#include <optional>
#include <string_view>

namespace dryclock {

// The number that is all of the text, as std::from_chars reads it; absent where it is none, or too large.
template <class Number>
[[nodiscard]] std::optional<Number> number_of(std::string_view text) {
  Number value{};
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  return error == std::errc{} && end == text.data() + text.size() ? std::optional{value} : std::nullopt;
}

}  // namespace dryclock
