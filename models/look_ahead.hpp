// One piece under a forecast: when it gets where.
#pragma once

#include <vector>

#include "models/piece.hpp"

namespace dryclock::models {

// When a milestone is reached under a forecast: each member is run until it is there.
struct MilestoneTimes {
  Quantiles hours[milestone_kinds];  // from now; +infinity where a member is not there within the forecast
};
// `forecast` holds the bay's air at every `step`, the first entry now. Cost is linear in its length.
[[nodiscard]] MilestoneTimes look_ahead(Piece piece, const std::vector<Surroundings>& forecast, Seconds step);

}  // namespace dryclock::models
