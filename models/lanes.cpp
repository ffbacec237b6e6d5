#include "models/lanes.hpp"

#include <algorithm>
#include <cmath>

namespace dryclock::models {

double LanePlace::of(double at_left, double at_next) const {
  if (share == 0.0) return at_left;
  if (share == 1.0) return at_next;
  if (!std::isfinite(at_left) || !std::isfinite(at_next)) return std::min(at_left, at_next);
  return at_left + share * (at_next - at_left);
}

LanePlace place_among(const Lanes& places, double wanted) {
  constexpr auto last = static_cast<double>(members - 1);
  const double spacing = (places.back() - places.front()) / last;
  const double place = std::clamp((wanted - places.front()) / spacing, 0.0, last);
  const auto left = std::min(static_cast<std::size_t>(place), members - 2);
  return {left, place - static_cast<double>(left)};
}

double between_lanes(const Lanes& values, const Lanes& places, double wanted) {
  const LanePlace place = place_among(places, wanted);
  return place.of(values[place.left], values[place.left + 1]);
}

}  // namespace dryclock::models
