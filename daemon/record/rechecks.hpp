// What the rechecks of all vehicles say together. Counts over some hundred pieces of one shop: they tell
// where to look, not why.
#pragma once

#include <map>
#include <vector>

#include "base/result.hpp"
#include "domain/rechecks.hpp"
#include "history/events.hpp"
#include "record/gather.hpp"

namespace dryclock::record {

// The vehicles of which a recheck was ever told, each with the last event that tells of one, or takes one
// back. `events`: all of the journal, in order.
[[nodiscard]] std::map<VehicleId, Seq> rechecked_vehicles(const std::vector<history::RecordedEvent>& events);

// The pieces of one vehicle that were looked at again. Takes as long as gather(). Problem: as gather().
[[nodiscard]] Result<std::vector<RecheckedPiece>> rechecked_pieces(const store::Reader& reader,
                                                                   VehicleId vehicle, const Origin& origin);

// Groups in a fixed order; those of panels with the most pieces first. Fewer than ten pieces are called too
// few: one that lifts more or less would move the share by a tenth and more.
[[nodiscard]] std::vector<RecheckGroup> grouped(const std::vector<RecheckedPiece>& pieces);
inline constexpr int few_pieces = 10;

}  // namespace dryclock::record
