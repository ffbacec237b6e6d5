// What a replay begins with of what the tables hold, where rows that are dated anew may have changed it:
// alerts that are open, hours of air; and what the times of others are.
#pragma once

#include <vector>

#include "base/result.hpp"
#include "domain/view.hpp"
#include "store/reader.hpp"

namespace dryclock::app {

// Those that were open at `from`, by their table. One that follows from rows is left out where a clock that
// was wrong may have told its time: its rows are dated anew and raise it again, at the right time, if it
// still is so. Problem: the database.
[[nodiscard]] Result<std::vector<AlertSummary>> open_before(const store::Reader& reader, Time from);

// Hours of the bays' air that a replay from then on may learn from, by their table. Left out are those of a
// clock that rows after `after` call wrong: their readings make others. Problem: the database.
[[nodiscard]] Result<std::vector<AirHour>> air_before(const store::Reader& reader, Time from, Seq after);

struct MovedAlert {
  AlertSummary was, is;
};
// Of `open`, those that no row tells of (the daemon's own, and those that need a forecast) and that were
// raised at times which rows after `after` took back. Problem: the database.
[[nodiscard]] Result<std::vector<MovedAlert>> moved_alerts(const store::Reader& reader, Seq after,
                                                           const std::vector<AlertSummary>& open);

}  // namespace dryclock::app
