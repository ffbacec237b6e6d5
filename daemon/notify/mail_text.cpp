#include "notify/mail_text.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <functional>

#include "base/base64.hpp"
#include "base/utf8.hpp"

namespace dryclock::notify {
namespace {

constexpr std::string_view line_end = "\r\n";
constexpr std::size_t body_line = 76;           // RFC 2045
constexpr std::size_t encoded_word_bytes = 45;  // so that a word stays within RFC 2047's 75 characters

bool is_plain(std::string_view text) {
  return text.size() <= body_line &&
         std::all_of(text.begin(), text.end(), [](char c) { return c >= ' ' && c <= '~'; }) &&
         text.find("=?") == std::string_view::npos;
}

std::string join(const std::vector<std::string>& words) {
  std::string joined;
  for (const auto& word : words) {
    joined += (joined.empty() ? "" : ", ") + word;
  }
  return joined;
}

}  // namespace

std::string header_value(std::string_view text) {
  std::string clean{text};
  std::replace_if(
      clean.begin(), clean.end(), [](char c) { return c == '\r' || c == '\n'; }, ' ');
  if (is_plain(clean)) {
    return clean;
  }
  std::string value;
  for (std::string_view rest = clean; !rest.empty();) {
    const auto word = utf8_head(rest, encoded_word_bytes);  // a word must hold whole characters
    value += fmt::format("{}=?UTF-8?B?{}?=", value.empty() ? "" : "\r\n ", base64(word));
    rest.remove_prefix(word.size());
  }
  return value;
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

std::string compose(const MailText& mail) {
  const auto at_sign = mail.from.find('@');
  const auto host = at_sign == std::string::npos ? std::string{"localhost"} : mail.from.substr(at_sign + 1);
  const auto number = std::hash<std::string>{}(mail.subject + mail.body);
  std::string text = fmt::format(
      "From: {}\r\nTo: {}\r\nSubject: {}\r\nDate: {}\r\nMessage-ID: <{}.{:x}@{}>\r\n"
      "MIME-Version: 1.0\r\nContent-Type: text/plain; charset=utf-8\r\nContent-Transfer-Encoding: "
      "base64\r\n\r\n",
      mail.from, join(mail.to), header_value(mail.subject), mail_date(mail.at), to_unix_ms(mail.at), number,
      host);
  const auto body = base64(mail.body);
  for (std::size_t i = 0; i < body.size(); i += body_line) {
    text.append(body, i, body_line).append(line_end);
  }
  return text;
}

}  // namespace dryclock::notify
