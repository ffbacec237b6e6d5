// Fewer points for a plot: means over stretches of equal length.
#pragma once

#include <vector>

#include "domain/view.hpp"

namespace dryclock::http {

// One point for each stretch of `every` that holds any: means of the numbers that are there, the time of its
// last point, bridged where any is. `points` are in order of time.
[[nodiscard]] std::vector<AirPoint> thinned(const std::vector<AirPoint>& points, Millis every);

}  // namespace dryclock::http
