// UTF-8 as RFC 3629 has it: no overlong forms, no surrogates, up to U+10FFFF. (None of the libraries that are
// linked offers such a check for others to call.)
#pragma once

#include <string_view>

namespace dryclock {

// Bytes of the character that `text` begins with; 0 where it begins with none.
[[nodiscard]] std::size_t utf8_length(std::string_view text);
[[nodiscard]] bool is_utf8(std::string_view text);
// Characters; a byte that is part of none may count as one, or not.
[[nodiscard]] std::size_t utf8_count(std::string_view text);
// The first bytes, at most `most`, cut before a character rather than within it.
[[nodiscard]] std::string_view utf8_head(std::string_view text, std::size_t most);

}  // namespace dryclock
