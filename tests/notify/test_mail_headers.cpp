#include "notify/mail_headers.hpp"

#include <doctest/doctest.h>

#include <algorithm>

#include "base/base64.hpp"

namespace dryclock::notify {
namespace {

using Lines = std::vector<std::string>;

// RFC 5322, appendix A.1.1: "Fri, 21 Nov 1997 09:55:06 -0600"; 880127706 s by coreutils' date.
TEST_CASE("a date as RFC 5322 prints it, in UTC") {
  CHECK(mail_date(from_unix_ms(880'127'706'000)) == "Fri, 21 Nov 1997 15:55:06 +0000");
}

TEST_CASE("a plain header stays as it is") {
  CHECK(header_lines("Subject", "Bay front is cold") == Lines{"Subject: Bay front is cold"});
}

TEST_CASE("a header cannot be ended by what is in it") {
  CHECK(header_lines("Subject", "cold\r\nBcc: all@example") == Lines{"Subject: cold  Bcc: all@example"});
}

// RFC 2047, section 2: an encoded word holds at most 75 characters, and a line with one at most 76; section
// 5: whole characters of the text. RFC 5322, section 2.2.3: a line that goes on begins with a space.
TEST_CASE("a header beyond ASCII is cut into encoded words at characters") {
  const std::string character = "\xC3\xA9";  // e with acute accent
  std::string text;
  for (int i = 0; i < 40; ++i) {
    text += character;
  }
  const auto lines = header_lines("Subject", text);
  REQUIRE(lines.size() > 1);
  std::size_t bytes = 0;
  for (const auto& line : lines) {
    CHECK(line.size() <= 76);
    const std::string lead = bytes == 0 ? "Subject: " : " ";
    REQUIRE(line.starts_with(lead + "=?UTF-8?B?"));
    REQUIRE(line.ends_with("?="));
    const auto code = line.substr(lead.size() + 10, line.size() - lead.size() - 12);
    const auto padding = static_cast<std::size_t>(std::count(code.begin(), code.end(), '='));
    const auto length = code.size() / 4 * 3 - padding;
    CHECK(length % character.size() == 0);
    CHECK(code == base64(text.substr(bytes, length)));
    bytes += length;
  }
  CHECK(bytes == text.size());
}

TEST_CASE("what is too long for a line, or looks like an encoded word, becomes one") {
  const auto lines = header_lines("Subject", std::string(100, 'x'));
  CHECK(lines.size() == 3);  // 39 bytes a word
  CHECK(lines[0].starts_with("Subject: =?UTF-8?B?eHh4"));
  // "=?" by coreutils' base64
  CHECK(header_lines("Subject", "=?") == Lines{"Subject: =?UTF-8?B?PT8=?="});
}

}  // namespace
}  // namespace dryclock::notify
