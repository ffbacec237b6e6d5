// Local time for people: page, client and record. The engine never sees it.
#pragma once

#include <string>
#include <string_view>

#include "base/time.hpp"

namespace dryclock {

// A place's rules for local time, from the system's zone data. Cheap to copy.
class LocalZone {
 public:
  // `name` from the IANA list ("Europe/London"); empty: the machine's own zone. Error: no such zone.
  [[nodiscard]] static Result<LocalZone> find(std::string_view name);

  [[nodiscard]] std::string name() const;
  // Offset from UTC in force at `t`.
  [[nodiscard]] std::chrono::seconds offset(Time t) const;
  // "2026-03-01 07:40".
  [[nodiscard]] std::string date_clock(Time t) const;
  // The local calendar day that holds `t`: its first instant, and the next day's. 23 h and 25 h days are
  // real.
  [[nodiscard]] Time day_start(Time t) const;
  [[nodiscard]] Time next_day_start(Time t) const;
  // When the clock shows `time_of_day` on the local day of `t`, or so many days after it. An hour that is
  // skipped is the instant after the gap, one that comes twice the first.
  [[nodiscard]] Time clock_on(Time t, int days_after, std::chrono::minutes time_of_day) const;
  // What a person means by "07:40" (the day of `near`) or "2026-03-01 07:40". RFC 3339 is taken as it stands.
  // Problem: not a time, or one that the clocks skip, or that comes twice: it says how to tell which is
  // meant.
  [[nodiscard]] Result<Time> parse(std::string_view text, Time near) const;

 private:
  explicit LocalZone(const void* zone) : zone_(zone) {}
  const void* zone_;  // date::time_zone, owned by the library's list and never freed
};

}  // namespace dryclock
