#include "models/lanes.hpp"

#include <algorithm>
#include <cmath>

namespace dryclock::models {
double LanePlace::along_line(double at_left, double at_next) const {
  if (share == 0.0) return at_left;
  if (share == 1.0) return at_next;
  if (!std::isfinite(at_left) || !std::isfinite(at_next)) return std::min(at_left, at_next);
  return at_left + share * (at_next - at_left);
}

double between_lanes(const Lanes& values, const Lanes& places, double wanted) {
  return place_among(places, wanted).of(values);
}

}  // namespace dryclock::models
