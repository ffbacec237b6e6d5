// A mail as it goes over the wire: headers and a body in forms that any server passes on.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/time.hpp"

namespace dryclock::notify {

struct MailText {
  std::string from;
  std::vector<std::string> to;
  std::string subject;  // UTF-8; line ends become spaces
  std::string body;     // UTF-8
  Time at;
};

// RFC 5322 headers with CRLF line ends, RFC 2045 base64 body.
[[nodiscard]] std::string compose(const MailText& mail);

// A header's value: as it is where it is short plain ASCII, else RFC 2047 encoded words.
[[nodiscard]] std::string header_value(std::string_view text);
// RFC 5322 section 3.3, in UTC: "Sun, 01 Mar 2026 14:20:00 +0000".
[[nodiscard]] std::string mail_date(Time at);

}  // namespace dryclock::notify
