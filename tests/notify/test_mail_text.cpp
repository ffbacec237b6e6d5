#include "notify/mail_text.hpp"

#include <doctest/doctest.h>

#include <sstream>

#include "base/base64.hpp"

namespace dryclock::notify {
namespace {

// RFC 5322, appendix A.1.1: "Fri, 21 Nov 1997 09:55:06 -0600"; 880127706 s by coreutils' date.
TEST_CASE("a date as RFC 5322 prints it, in UTC") {
  CHECK(mail_date(from_unix_ms(880'127'706'000)) == "Fri, 21 Nov 1997 15:55:06 +0000");
}

TEST_CASE("a plain header stays as it is") {
  CHECK(header_value("Bay front is cold") == "Bay front is cold");
}

TEST_CASE("a header cannot be ended by what is in it") {
  CHECK(header_value("cold\r\nBcc: all@example") == "cold  Bcc: all@example");
}

// RFC 2047, section 2: an encoded word holds at most 75 characters, whole characters of the text, and lines
// follow each other after CRLF SPACE.
TEST_CASE("a header beyond ASCII is cut into encoded words at characters") {
  std::string text;
  for (int i = 0; i < 40; ++i) {
    text += "\xC3\xA9";  // e with acute accent
  }
  const auto value = header_value(text);
  std::istringstream words(value);
  std::size_t bytes = 0;
  for (std::string word; words >> word;) {
    CHECK(word.size() <= 75);
    CHECK(word.starts_with("=?UTF-8?B?"));
    CHECK(word.ends_with("?="));
    const auto code = word.substr(10, word.size() - 12);
    const auto padding = static_cast<std::size_t>(std::count(code.begin(), code.end(), '='));
    const auto length = code.size() / 4 * 3 - padding;
    CHECK(length % 2 == 0);
    CHECK(code == base64(text.substr(bytes, length)));
    bytes += length;
  }
  CHECK(bytes == text.size());
  CHECK(value.find("=\r\n =?") != std::string::npos);
}

TEST_CASE("no line of the body is longer than RFC 2045's 76 characters") {
  const auto text = compose({.from = "bay@shop.example",
                             .to = {"one@shop.example"},
                             .subject = "s",
                             .body = std::string(500, 'x'),
                             .at = from_unix_ms(0)});
  std::istringstream lines(text.substr(text.find("\r\n\r\n") + 4));
  std::size_t digits = 0;
  for (std::string line; std::getline(lines, line);) {
    CHECK(line.size() <= 77);  // with its CR
    CHECK(line.back() == '\r');
    digits += line.size() - 1;
  }
  CHECK(digits == 668);  // 500 bytes: 167 groups of 4
}

}  // namespace
}  // namespace dryclock::notify
