#include "notify/mail_headers.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <functional>
#include <iterator>

#include "base/base64.hpp"
#include "base/utf8.hpp"

namespace dryclock::notify {
namespace {

constexpr std::size_t longest_line = 76;  // RFC 2047, where it holds encoded words
// 64 characters with "=?UTF-8?B?" and "?="; a name stands before.
constexpr std::size_t encoded_word_bytes = 39;

bool is_plain(std::string_view text) {
  return std::all_of(text.begin(), text.end(), [](char c) { return c >= ' ' && c <= '~'; }) &&
         text.find("=?") == std::string_view::npos;
}

}  // namespace

std::vector<std::string> header_lines(std::string_view name, std::string_view text) {
  std::string clean{text};
  std::replace_if(
      clean.begin(), clean.end(), [](char c) { return c == '\r' || c == '\n'; }, ' ');
  std::vector<std::string> lines{fmt::format("{}: ", name)};
  if (is_plain(clean) && lines[0].size() + clean.size() <= longest_line) {
    lines[0] += clean;
    return lines;
  }
  for (std::string_view rest = clean; !rest.empty();) {
    const auto word = utf8_head(rest, encoded_word_bytes);  // whole characters
    if (rest.size() < clean.size()) {
      lines.emplace_back(" ");
    }
    lines.back() += fmt::format("=?UTF-8?B?{}?=", base64(word));
    rest.remove_prefix(word.size());
  }
  return lines;
}

std::string mail_date(Time at) {
  constexpr std::array<std::string_view, 7> days{"Sun", "Mon", "Tue", "Wed", "Thu", "Fri", "Sat"};
  constexpr std::array<std::string_view, 12> months{"Jan", "Feb", "Mar", "Apr", "May", "Jun",
                                                    "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"};
  const auto day = std::chrono::floor<std::chrono::days>(at);
  const std::chrono::year_month_day date{day};
  const std::chrono::hh_mm_ss clock{std::chrono::floor<std::chrono::seconds>(at - day)};
  return fmt::format("{}, {:02} {} {:04} {:02}:{:02}:{:02} +0000",
                     days[std::chrono::weekday{day}.c_encoding()], static_cast<unsigned>(date.day()),
                     months[static_cast<unsigned>(date.month()) - 1], static_cast<int>(date.year()),
                     clock.hours().count(), clock.minutes().count(), clock.seconds().count());
}

std::vector<std::string> mail_headers(const Mail& settings, const Outgoing& message, Time at) {
  const auto at_sign = settings.from.find('@');
  const auto host =
      at_sign == std::string::npos ? std::string{"localhost"} : settings.from.substr(at_sign + 1);
  const auto number = std::hash<std::string>{}(message.topic + message.payload);
  std::vector<std::string> lines{
      "From: " + settings.from, fmt::format("To: {}", fmt::join(settings.to, ", ")), "Date: " + mail_date(at),
      fmt::format("Message-ID: <{}.{:x}@{}>", to_unix_ms(at), number, host)};
  std::ranges::copy(header_lines("Subject", message.topic), std::back_inserter(lines));
  return lines;
}

}  // namespace dryclock::notify
