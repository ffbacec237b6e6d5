#include "base/local_time.hpp"

#include <date/tz.h>
#include <fmt/format.h>

#include <optional>
#include <sstream>
#include <stdexcept>

namespace dryclock {
namespace {

const date::time_zone& zone_of(const void* zone) {
  return *static_cast<const date::time_zone*>(zone);
}

std::string formatted(const void* zone, Time t, const char* pattern) {
  return date::format(pattern, date::make_zoned(&zone_of(zone), std::chrono::floor<std::chrono::seconds>(t)));
}

date::local_days local_day(const void* zone, Time t) {
  return date::floor<date::days>(zone_of(zone).to_local(t));
}

Time to_utc(const void* zone, date::local_time<Millis> local) {
  const auto info = zone_of(zone).get_info(local);
  if (info.result == date::local_info::nonexistent) {
    return Time{std::chrono::floor<Millis>(info.second.begin)};
  }
  return zone_of(zone).to_sys(local, date::choose::earliest);
}

// "2026-10-25T01:30+01:00"
std::string with_offset(date::local_seconds local, std::chrono::seconds offset) {
  const auto minutes = std::chrono::floor<std::chrono::minutes>(std::chrono::abs(offset)).count();
  return fmt::format("{}{}{:02}:{:02}", date::format("%FT%R", local), offset.count() < 0 ? '-' : '+',
                     minutes / 60, minutes % 60);
}

// The instant that a person means. Problem: the clocks skip it, or show it twice.
Result<Time> meant(const void* zone, std::string_view text, date::local_seconds local) {
  const auto info = zone_of(zone).get_info(local);
  if (info.result == date::local_info::nonexistent) {
    return Problem{
        fmt::format(
            "'{}' does not exist: that night the clocks go from {} to {}", text,
            date::format("%R", date::local_seconds{info.first.end.time_since_epoch() + info.first.offset}),
            date::format("%R",
                         date::local_seconds{info.second.begin.time_since_epoch() + info.second.offset})),
        {}};
  }
  if (info.result == date::local_info::ambiguous) {
    return Problem{fmt::format("'{}' comes twice that night: write {} for the first, {} for the second", text,
                               with_offset(local, info.first.offset), with_offset(local, info.second.offset)),
                   {}};
  }
  return Time{local.time_since_epoch() - info.first.offset};
}

}  // namespace

Result<LocalZone> LocalZone::find(std::string_view name) {
  try {
    return LocalZone{name.empty() ? date::current_zone() : date::locate_zone(std::string{name})};
  } catch (const std::runtime_error&) {
    return Problem{fmt::format("no time zone '{}'; try a name such as Europe/London", name), {}};
  }
}

std::string LocalZone::name() const {
  return zone_of(zone_).name();
}

std::chrono::seconds LocalZone::offset(Time t) const {
  return zone_of(zone_).get_info(t).offset;
}

std::string LocalZone::date_clock(Time t) const {
  return formatted(zone_, t, "%F %H:%M");
}

Time LocalZone::day_start(Time t) const {
  return to_utc(zone_, local_day(zone_, t));
}

Time LocalZone::next_day_start(Time t) const {
  return to_utc(zone_, local_day(zone_, t) + date::days{1});
}

Time LocalZone::clock_on(Time t, int days_after, std::chrono::minutes time_of_day) const {
  return to_utc(zone_, local_day(zone_, t) + date::days{days_after} + time_of_day);
}

Result<Time> LocalZone::parse(std::string_view text, Time near) const {
  if (auto absolute = parse_rfc3339(text)) {
    return absolute;
  }
  const auto read = [&](const std::string& full, const char* pattern) -> std::optional<date::local_seconds> {
    std::istringstream in{full};
    date::local_seconds local;
    in >> date::parse(pattern, local);
    if (in.fail() || in.peek() != std::istringstream::traits_type::eof()) {
      return std::nullopt;
    }
    return local;
  };
  const std::string today = date::format("%F ", local_day(zone_, near));
  const std::string given{text};
  for (const auto& [full, pattern] :
       {std::pair{given, "%F %H:%M"}, {given, "%FT%H:%M"}, {today + given, "%F %H:%M"}}) {
    if (const auto local = read(full, pattern)) {
      return meant(zone_, text, *local);
    }
  }
  return Problem{fmt::format("'{}' is not a time; write 07:40, or 2026-03-01 07:40", text), {}};
}

}  // namespace dryclock
