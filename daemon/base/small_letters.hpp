// Lower case, for what people type: of A to Z, and of the letters of Latin-1 in UTF-8.
#pragma once

#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace dryclock {

[[nodiscard]] inline std::string small_letters(std::string_view text) {
  std::string small{text};
  char before = ' ';
  for (char& c : small) {
    const auto byte = static_cast<unsigned char>(c);
    // U+00C0 to U+00DE are 32 below their small ones, and U+00D7 is no letter.
    const bool latin = before == '\xC3' && byte >= 0x80 && byte <= 0x9E && byte != 0x97;
    before = c;
    if ((c >= 'A' && c <= 'Z') || latin) {
      c = static_cast<char>(byte + 0x20);
    }
  }
  return small;
}

// What a text is made of between spaces.
[[nodiscard]] inline std::vector<std::string> words_of(std::string_view text) {
  std::vector<std::string> all;
  std::string word;
  for (const char c : std::string{text} + ' ') {
    if (c != ' ') {
      word += c;
    } else if (!word.empty()) {
      all.push_back(std::exchange(word, {}));
    }
  }
  return all;
}

}  // namespace dryclock
