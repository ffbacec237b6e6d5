// The time that a boot's rows are given, because their clock contradicts something better known.
#pragma once

#include <string>

#include "domain/types.hpp"

namespace dryclock {

enum class ClockFault : std::uint8_t {
  stepped,     // the clock was set: what came before is dated by the clock as it was set
  ahead,       // a later boot began before its rows: they end where it begins; the time between is not known
  behind,      // it began before rows of an earlier boot: it is taken to follow them. Its time is not known
  by_devices,  // nobody vouches for its clock, or it is behind: the times that devices tell date it ("told")
};

struct Redated {
  std::string boot;         // the kernel's id of it
  Time booted;              // what its boot time is counted from
  Seq first = 0, last = 0;  // the rows that are dated anew; 0: none were written yet
  Millis by{};              // how far; of several, the farthest
  ClockFault why = ClockFault::stepped;
  bool operator==(const Redated&) const = default;
};

}  // namespace dryclock
