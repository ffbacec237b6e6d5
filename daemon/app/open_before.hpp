// The alerts that a replay begins with.
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

}  // namespace dryclock::app
