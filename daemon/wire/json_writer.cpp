#include "wire/json_writer.hpp"

#include <array>
#include <charconv>
#include <cmath>

namespace dryclock::wire {
namespace {

// Bytes of the UTF-8 character that `text` begins with (RFC 3629); 0 where it begins with none.
std::size_t utf8_length(std::string_view text) {
  const auto byte = [&](std::size_t i) { return i < text.size() ? static_cast<unsigned char>(text[i]) : 0U; };
  const auto within = [&](std::size_t i, unsigned low, unsigned high) {
    return byte(i) >= low && byte(i) <= high;
  };
  const unsigned first = byte(0);
  if (first < 0x80U) {
    return 1;
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

}  // namespace

// A value is followed by a comma unless it stands first or after its key: the last character tells.
void JsonWriter::separate() {
  if (!text_.empty() && text_.back() != '{' && text_.back() != '[' && text_.back() != ':') {
    text_ += ',';
  }
}

void JsonWriter::open(char bracket) {
  separate();
  text_ += bracket;
}

void JsonWriter::key(std::string_view name) {
  separate();
  quote(name);
  text_ += ':';
}

void JsonWriter::value(std::string_view text) {
  separate();
  quote(text);
}

void JsonWriter::value(double number) {
  if (!std::isfinite(number)) {
    null();
    return;
  }
  std::array<char, 32> digits{};
  const auto end = std::to_chars(digits.data(), digits.data() + digits.size(), number).ptr;
  raw({digits.data(), static_cast<std::size_t>(end - digits.data())});
}

void JsonWriter::raw(std::string_view json) {
  separate();
  text_ += json;
}

void JsonWriter::quote(std::string_view text) {
  text_ += '"';
  while (!text.empty()) {
    const std::size_t length = utf8_length(text);
    const auto c = static_cast<unsigned char>(text.front());
    if (length == 0) {
      text_ += "\xEF\xBF\xBD";
    } else if (c == '"' || c == '\\') {
      text_ += '\\';
      text_ += text.front();
    } else if (c == '\n') {
      text_ += "\\n";
    } else if (c < 0x20U) {
      text_ += "\\u00";
      text_ += "0123456789abcdef"[c >> 4U];
      text_ += "0123456789abcdef"[c & 15U];
    } else {
      text_ += text.substr(0, length);
    }
    text.remove_prefix(length == 0 ? 1 : length);
  }
  text_ += '"';
}

}  // namespace dryclock::wire
