#include "base/utf8.hpp"

#include <algorithm>

namespace dryclock {
namespace {

constexpr std::size_t longest = 4;  // bytes of a character

bool goes_on(char c) {  // a character's second byte, or a later one
  return (static_cast<unsigned char>(c) & 0xC0U) == 0x80U;
}

}  // namespace

std::size_t utf8_length(std::string_view text) {
  const auto byte = [&](std::size_t i) { return i < text.size() ? static_cast<unsigned char>(text[i]) : 0U; };
  const auto within = [&](std::size_t i, unsigned low, unsigned high) {
    return byte(i) >= low && byte(i) <= high;
  };
  const unsigned first = byte(0);
  if (first < 0x80U) {
    return text.empty() ? 0 : 1;
  }
  if (first >= 0xC2U && first <= 0xDFU) {
    return within(1, 0x80U, 0xBFU) ? 2 : 0;
  }
  if (first >= 0xE0U && first <= 0xEFU) {
    const unsigned low = first == 0xE0U ? 0xA0U : 0x80U;   // no overlong forms
    const unsigned high = first == 0xEDU ? 0x9FU : 0xBFU;  // no surrogates
    return within(1, low, high) && within(2, 0x80U, 0xBFU) ? 3 : 0;
  }
  if (first >= 0xF0U && first <= 0xF4U) {
    const unsigned low = first == 0xF0U ? 0x90U : 0x80U;
    const unsigned high = first == 0xF4U ? 0x8FU : 0xBFU;  // up to U+10FFFF
    return within(1, low, high) && within(2, 0x80U, 0xBFU) && within(3, 0x80U, 0xBFU) ? 4 : 0;
  }
  return 0;
}

bool is_utf8(std::string_view text) {
  while (!text.empty()) {
    const auto length = utf8_length(text);
    if (length == 0) {
      return false;
    }
    text.remove_prefix(length);
  }
  return true;
}

std::size_t utf8_count(std::string_view text) {
  return text.size() - static_cast<std::size_t>(std::count_if(text.begin(), text.end(), goes_on));
}

std::string_view utf8_head(std::string_view text, std::size_t most) {
  if (text.size() <= most) {
    return text;
  }
  auto end = most;
  while (end > 0 && most - end < longest && goes_on(text[end])) {
    --end;
  }
  return text.substr(0, goes_on(text[end]) ? most : end);  // no character is that long: it is not UTF-8
}

}  // namespace dryclock
