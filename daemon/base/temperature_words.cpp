#include "base/temperature_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <charconv>

namespace dryclock {
namespace {

bool is_letter_or_digit(char c) {
  return std::isalnum(static_cast<unsigned char>(c)) != 0;
}

// Where the number that ends before `end` begins; `end` where there is none.
std::size_t number_before(std::string_view text, std::size_t end) {
  std::size_t from = end;
  while (from > 0 &&
         (std::isdigit(static_cast<unsigned char>(text[from - 1])) != 0 || text[from - 1] == '.')) {
    --from;
  }
  if (from < end && from > 0 && text[from - 1] == '-') {
    --from;
  }
  return from > 0 && is_letter_or_digit(text[from - 1]) ? end : from;
}

}  // namespace

std::string in_fahrenheit(std::string_view sentence) {
  constexpr std::size_t unit_length = 2;  // " C", " K"
  std::string out;
  std::size_t copied = 0;
  for (auto at = sentence.find(' '); at != std::string_view::npos; at = sentence.find(' ', at + 1)) {
    const auto unit = sentence.substr(at, unit_length);
    const bool difference = unit == " K";
    const auto after = at + unit_length;
    const bool whole = after >= sentence.size() || !is_letter_or_digit(sentence[after]);
    const auto from = number_before(sentence, at);
    if (!(difference || unit == " C") || !whole || from == at) {
      continue;
    }
    double degrees = 0.0;
    const auto [end, error] = std::from_chars(sentence.data() + from, sentence.data() + at, degrees);
    if (error != std::errc{} || end != sentence.data() + at) {
      continue;
    }
    const auto point = sentence.find('.', from);
    const auto decimals = point < at ? at - point - 1 : 0;
    out += sentence.substr(copied, from - copied);
    out += fmt::format("{:.{}f} F", degrees * 9.0 / 5.0 + (difference ? 0.0 : 32.0), decimals);
    copied = after;
  }
  return out + std::string{sentence.substr(copied)};
}

}  // namespace dryclock
