#include "record/text.hpp"

#include <array>
#include <charconv>
#include <cmath>

namespace dryclock::record {
namespace {

constexpr int longest = 400;  // fixed notation of the largest double, with room

template <class... Format>
std::string printed(double value, Format... format) {
  std::array<char, longest> text{};
  const auto [end, error] = std::to_chars(text.data(), text.data() + text.size(), value, format...);
  return error == std::errc{} ? std::string(text.data(), end) : std::string{};
}

}  // namespace

std::string number(double value) {
  return std::isfinite(value) ? printed(value) : std::string{};
}

std::string number_in_print(double value, std::string_view decimal_sign) {
  constexpr std::array<const char*, 10> raised{"\xE2\x81\xB0", "\xC2\xB9",     "\xC2\xB2",     "\xC2\xB3",
                                               "\xE2\x81\xB4", "\xE2\x81\xB5", "\xE2\x81\xB6", "\xE2\x81\xB7",
                                               "\xE2\x81\xB8", "\xE2\x81\xB9"};
  auto text = number(value);
  if (const auto point = text.find('.'); point != std::string::npos) {
    text.replace(point, 1, decimal_sign);
  }
  const auto e = text.find('e');
  if (e == std::string::npos) {
    return text;
  }
  std::string out = text.substr(0, e) + " \xC3\x97 10";
  bool leading = true;
  for (const char c : text.substr(e + 1)) {
    if (c == '-') {
      out += "\xE2\x81\xBB";
    } else if (c != '+' && !(leading && c == '0')) {
      out += raised[static_cast<std::size_t>(c - '0')];
      leading = false;
    }
  }
  return out;
}

std::string fixed(double value, int decimals) {
  if (!std::isfinite(value)) {
    return "-";
  }
  auto text = printed(value, std::chars_format::fixed, decimals);
  if (text.starts_with('-') && text.find_first_not_of("-0.") == std::string::npos) {
    text.erase(0, 1);
  }
  return text;
}

std::string csv_field(std::string_view text) {
  if (text.find_first_of(",\"\r\n") == std::string_view::npos) {
    return std::string{text};
  }
  std::string out = "\"";
  for (const char c : text) {
    out += c == '"' ? "\"\"" : std::string(1, c);
  }
  return out + "\"";
}

}  // namespace dryclock::record
