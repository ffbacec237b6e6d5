// Instants are UTC with milliseconds, in storage and in the engine. Local time is for people: local_time.hpp.
#pragma once

#include <chrono>
#include <cstdint>
#include <string>
#include <string_view>

#include "base/result.hpp"

namespace dryclock {

using Millis = std::chrono::milliseconds;
using Time = std::chrono::sys_time<Millis>;

[[nodiscard]] constexpr Time from_unix_ms(std::int64_t ms) {
  return Time{Millis{ms}};
}
[[nodiscard]] constexpr std::int64_t to_unix_ms(Time t) {
  return t.time_since_epoch().count();
}
[[nodiscard]] constexpr double seconds_between(Time from, Time to) {
  return std::chrono::duration<double>(to - from).count();
}

// RFC 3339 in UTC with milliseconds: "2026-03-01T14:20:00.000Z".
[[nodiscard]] std::string to_rfc3339(Time t);

// Reads RFC 3339: date, 'T' or a space, time to the minute, second or fraction, then 'Z' or an offset.
// Digits beyond milliseconds are cut. Errors: not that form, a field out of range, no zone.
[[nodiscard]] Result<Time> parse_rfc3339(std::string_view text);

}  // namespace dryclock
