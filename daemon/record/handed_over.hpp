// Vehicles that were handed over, for the recheck two to three weeks later: from the journal's events, so
// that neither a restart nor the engine's memory matters.
#pragma once

#include <chrono>
#include <vector>

#include "base/result.hpp"
#include "domain/view.hpp"
#include "history/dates.hpp"

namespace dryclock::record {

// After the hand-over. Common practice, no source: the edges have settled by then, and what lifts shows.
inline constexpr std::chrono::days recheck_from{14}, recheck_until{21};

// Those whose hand-over was told in the last 60 days before `now`, newest first. A vehicle that came more
// than 90 days before that is left out: so much of the journal is read. Off the core thread. Problem: the
// database.
[[nodiscard]] Result<std::vector<HandedOver>> handed_over(const store::Reader& reader,
                                                          const history::Dates& dates, Time now);

}  // namespace dryclock::record
