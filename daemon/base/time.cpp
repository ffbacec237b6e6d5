#include "base/time.hpp"

#include <fmt/format.h>

#include <charconv>
#include <optional>

namespace dryclock {
namespace {

// Takes exactly `digits` decimal digits off the front of `text`.
std::optional<int> take_number(std::string_view& text, std::size_t digits) {
  if (text.size() < digits) {
    return std::nullopt;
  }
  int value = 0;
  for (char c : text.substr(0, digits)) {
    if (c < '0' || c > '9') {
      return std::nullopt;
    }
    value = value * 10 + (c - '0');
  }
  text.remove_prefix(digits);
  return value;
}

bool take_char(std::string_view& text, std::string_view allowed) {
  if (text.empty() || allowed.find(text.front()) == std::string_view::npos) {
    return false;
  }
  text.remove_prefix(1);
  return true;
}

// The fraction after the second's dot, cut to milliseconds.
std::optional<int> take_fraction(std::string_view& text) {
  int ms = 0;
  int seen = 0;
  while (!text.empty() && text.front() >= '0' && text.front() <= '9') {
    if (seen < 3) {
      ms = ms * 10 + (text.front() - '0');
    }
    ++seen;
    text.remove_prefix(1);
  }
  if (seen == 0) {
    return std::nullopt;
  }
  for (; seen < 3; ++seen) {
    ms *= 10;
  }
  return ms;
}

std::optional<std::chrono::minutes> take_zone(std::string_view& text) {
  if (take_char(text, "Zz")) {
    return std::chrono::minutes{0};
  }
  if (text.empty() || (text.front() != '+' && text.front() != '-')) {
    return std::nullopt;
  }
  const int sign = text.front() == '-' ? -1 : 1;
  text.remove_prefix(1);
  const auto hours = take_number(text, 2);
  if (!hours || !take_char(text, ":")) {
    return std::nullopt;
  }
  const auto minutes = take_number(text, 2);
  if (!minutes || *hours > 23 || *minutes > 59) {
    return std::nullopt;
  }
  return std::chrono::minutes{sign * (*hours * 60 + *minutes)};
}

}  // namespace

std::string to_rfc3339(Time t) {
  const auto day = std::chrono::floor<std::chrono::days>(t);
  const std::chrono::year_month_day date{day};
  const std::chrono::hh_mm_ss clock{t - day};
  return fmt::format("{:04}-{:02}-{:02}T{:02}:{:02}:{:02}.{:03}Z", static_cast<int>(date.year()),
                     static_cast<unsigned>(date.month()), static_cast<unsigned>(date.day()),
                     clock.hours().count(), clock.minutes().count(), clock.seconds().count(),
                     clock.subseconds().count());
}

Result<Time> parse_rfc3339(std::string_view text) {
  const Problem bad{fmt::format("'{}' is not a time such as 2026-03-01T14:20:00Z", text), {}};
  const auto year = take_number(text, 4);
  if (!year || !take_char(text, "-")) {
    return bad;
  }
  const auto month = take_number(text, 2);
  if (!month || !take_char(text, "-")) {
    return bad;
  }
  const auto day = take_number(text, 2);
  if (!day || !take_char(text, "Tt ")) {
    return bad;
  }
  const auto hour = take_number(text, 2);
  if (!hour || !take_char(text, ":")) {
    return bad;
  }
  const auto minute = take_number(text, 2);
  if (!minute) {
    return bad;
  }
  int second = 0;
  int ms = 0;
  if (take_char(text, ":")) {
    const auto taken = take_number(text, 2);
    if (!taken) {
      return bad;
    }
    second = *taken;
    if (take_char(text, ".")) {
      const auto fraction = take_fraction(text);
      if (!fraction) {
        return bad;
      }
      ms = *fraction;
    }
  }
  const auto zone = take_zone(text);
  const std::chrono::year_month_day date{std::chrono::year{*year},
                                         std::chrono::month{static_cast<unsigned>(*month)},
                                         std::chrono::day{static_cast<unsigned>(*day)}};
  // A leap second (60) is read as the first of the next minute.
  if (!zone || !text.empty() || !date.ok() || *hour > 23 || *minute > 59 || second > 60) {
    return bad;
  }
  return Time{std::chrono::sys_days{date}} + std::chrono::hours{*hour} + std::chrono::minutes{*minute} +
         std::chrono::seconds{second} + Millis{ms} - *zone;
}

}  // namespace dryclock
