// What the journal says about the machine's clock, held against what the clock says now.
#pragma once

#include "history/boots.hpp"
#include "history/dates.hpp"

namespace dryclock::history {

struct ClockNow {
  std::int64_t session = 0;  // the running one
  Time booted;               // the wall clock less boot time
  Millis boot_time{};
  // A time server or the machine's clock chip vouches for it, or somebody set it just now.
  bool trusted = false;
  std::optional<Time> by_devices = std::nullopt;  // wall time less boot time, as devices tell
};

// Problem: the database.
[[nodiscard]] Result<Judged> look_at_boots(const store::Reader& reader, const Dates& dates,
                                           const ClockNow& now);

}  // namespace dryclock::history
