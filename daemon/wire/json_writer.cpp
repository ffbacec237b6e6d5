#include "wire/json_writer.hpp"

#include <array>
#include <charconv>
#include <cmath>

#include "base/utf8.hpp"

namespace dryclock::wire {

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
