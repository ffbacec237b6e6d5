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

LanePlace place_among(const Lanes& places, double wanted) {
  constexpr auto last = static_cast<double>(members - 1);
  const double spacing = (places.back() - places.front()) / last;
  const double at = std::clamp((wanted - places.front()) / spacing, 0.0, last);
  LanePlace place;
  place.left = std::min(static_cast<std::size_t>(at), members - 2);
  place.share = at - static_cast<double>(place.left);
  place.first = std::min(place.left - std::min<std::size_t>(place.left, 1), members - 4);
  // Lagrange's, at 0, 1, 2, 3.
  const double x = at - static_cast<double>(place.first);
  const double a = x - 1.0, b = x - 2.0, c = x - 3.0;
  place.weight = {-a * b * c / 6.0, x * b * c / 2.0, -x * a * c / 2.0, x * a * b / 6.0};
  return place;
}

double between_lanes(const Lanes& values, const Lanes& places, double wanted) {
  return place_among(places, wanted).of(values);
}

}  // namespace dryclock::models
