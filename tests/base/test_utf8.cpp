#include "base/utf8.hpp"

#include <doctest/doctest.h>

#include <string>

namespace dryclock {

TEST_CASE("what is UTF-8 and what is not (RFC 3629, 3, 4, 10)") {
  CHECK(is_utf8(""));
  CHECK(
      is_utf8("21.5 \xc2\xb0"
              "C"));
  CHECK(is_utf8("\xe2\x89\xa2\xce\x91"));          // section 7's first example
  CHECK(is_utf8("\xef\xbb\xbf\xf0\xa3\x8e\xb4"));  // and its last
  CHECK(is_utf8("\xf4\x8f\xbf\xbf"));              // U+10FFFF
  CHECK(is_utf8(std::string_view("\0", 1)));
  CHECK(!is_utf8("\xc0\x80"));  // section 10: the two-byte NUL
  CHECK(!is_utf8("\xc1\xbf"));  // overlong
  CHECK(!is_utf8("\xe0\x9f\xbf"));
  CHECK(!is_utf8("\xf0\x8f\xbf\xbf"));
  CHECK(!is_utf8("\xed\xa0\x80"));  // a surrogate
  CHECK(!is_utf8("\xf4\x90\x80\x80"));
  CHECK(!is_utf8("\xff"));
  CHECK(!is_utf8("\x80"));
  CHECK(!is_utf8("\xe2\x89"));  // cut off
}

TEST_CASE("a character's length in bytes") {
  CHECK(utf8_length("") == 0);
  CHECK(utf8_length("ab") == 1);
  CHECK(utf8_length("\xc2\xb0"
                    "C") == 2);
  CHECK(utf8_length("\xe2\x89\xa2") == 3);
  CHECK(utf8_length("\xf0\xa3\x8e\xb4") == 4);
  CHECK(utf8_length("\xa3\x8e\xb4") == 0);
}

TEST_CASE("characters are counted, not bytes") {
  CHECK(utf8_count("") == 0);
  CHECK(utf8_count("\xe2\x89\xa2\xce\x91.") == 3);
}

TEST_CASE("a text is cut before a character, never within it") {
  const std::string text = "a\xe2\x89\xa2\xf0\xa3\x8e\xb4";
  CHECK(utf8_head(text, 100) == text);
  CHECK(utf8_head(text, 8) == text);
  for (const std::size_t within : {7U, 6U, 5U, 4U}) {
    CHECK(utf8_head(text, within) == "a\xe2\x89\xa2");
  }
  CHECK(utf8_head(text, 3) == "a");
  CHECK(utf8_head(text, 0).empty());
  // What is not UTF-8 is cut where it is told: whoever cuts piece by piece comes to an end.
  CHECK(utf8_head(std::string(10, '\x80'), 6).size() == 6);
}

}  // namespace dryclock
