// When did the machine boot, by the times that devices tell with their readings?
//
// What a device tells is at most as late as the truth: a reading is taken before it is sent, and sent before
// it is received. What its own clock is off by, nobody knows: a time zone that was set wrong, by whole
// quarter hours, is common, and a gateway that runs on this machine tells this machine's time. So rows are
// dated by it only where the machine's own clock is known to be wrong; elsewhere a person is told.
#pragma once

#include <deque>
#include <map>
#include <optional>
#include <string>

#include "domain/types.hpp"

namespace dryclock::history {

// Times that are told agree within this: some devices tell whole minutes, some send what they read a while
// ago.
inline constexpr Millis device_slack{60'000};

class DeviceTimes {
 public:
  // `boot_time`: of receipt, in the running boot. A reading without a time of its own does not count, nor one
  // that was kept by the broker or sent again: it may be old. A time that is told twice counts once: it is
  // one message's, or that of a clock that stands still.
  void hear(const Reading& reading, Millis boot_time);

  // Wall time less boot time: the median of what the sensors' newest messages tell. Absent: they are too few,
  // came too close together to prove anything (a broker hands over at once what it kept while we were away),
  // or less than two thirds lie within `device_slack` of the median.
  [[nodiscard]] std::optional<Time> booted() const;

 private:
  struct Heard {
    Millis since;  // boot time of the first of those that came close together
    Time booted;   // by the one of them that told the latest
    Time at;       // what the last one told
  };
  std::map<std::string, std::deque<Heard>> heard_;  // by sensor, the newest few
};

}  // namespace dryclock::history
