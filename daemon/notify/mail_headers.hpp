// What stands above a mail's text, as libcurl takes it: one line each, without line ends. Lines that begin
// with a space go on with the one before.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "notify/channels.hpp"

namespace dryclock::notify {

// RFC 5322: from, to, subject, date and an identifier. Nothing in the message can begin another header.
[[nodiscard]] std::vector<std::string> mail_headers(const Mail& settings, const Outgoing& message, Time at);

// A header with a text of people in it (UTF-8; line ends become spaces): as it is where it is short plain
// ASCII, else RFC 2047 encoded words.
[[nodiscard]] std::vector<std::string> header_lines(std::string_view name, std::string_view text);
// RFC 5322 section 3.3, in UTC: "Sun, 01 Mar 2026 14:20:00 +0000".
[[nodiscard]] std::string mail_date(Time at);

}  // namespace dryclock::notify
