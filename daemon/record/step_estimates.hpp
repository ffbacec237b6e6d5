// What was said, and what is worked out again, of the steps that were done on a piece.
#pragma once

#include <map>
#include <vector>

#include "history/events.hpp"
#include "record/record.hpp"
#include "record/shown_rows.hpp"

namespace dryclock::record {

// `piece`: with all that is known now. `then`: what the page would have shown just before each step. In order
// of time; a release of a piece that was no longer on is none of its steps.
[[nodiscard]] std::vector<StepEstimate> steps_of(const PieceSummary& piece,
                                                 const std::vector<history::RecordedEvent>& events,
                                                 const std::map<Seq, VehicleSummary>& then,
                                                 const ShownRows& rows);

}  // namespace dryclock::record
