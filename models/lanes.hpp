// Unlike resistances of a film, side by side: one double each.
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>

namespace dryclock::models {

inline constexpr std::size_t members = 8;
using Lanes = std::array<double, members>;

// Where something lies among lanes: after `left`, by a share of the way to the next. [0..1]
struct LanePlace {
  std::size_t left = 0;
  double share = 0.0;
  std::size_t first = 0;           // of the four lanes about it
  std::array<double, 4> weight{};  // of the cubic through them
  // What stands there: by the cubic; where a lane of the four is infinite, along the line between the two
  // next to it, the lower of them where one of those is.
  [[nodiscard]] double of(const Lanes& values) const {
    const double cubic = weight[0] * values[first] + weight[1] * values[first + 1] +
                         weight[2] * values[first + 2] + weight[3] * values[first + 3];
    return std::isfinite(cubic) ? cubic : along_line(values[left], values[left + 1]);
  }

 private:
  [[nodiscard]] double along_line(double at_left, double at_next) const;
};

// Of `wanted` among `places`, which rise evenly. Beyond the ends: the end.
[[nodiscard]] inline LanePlace place_among(const Lanes& places, double wanted) {
  constexpr auto last = static_cast<double>(members - 1);
  const double spacing = (places.back() - places.front()) / last;
  const double at = std::clamp((wanted - places.front()) / spacing, 0.0, last);
  LanePlace place;
  place.left = std::min(static_cast<std::size_t>(static_cast<int>(at)), members - 2);
  place.share = at - static_cast<double>(place.left);
  place.first = std::min(place.left - std::min<std::size_t>(place.left, 1), members - 4);
  // Lagrange's, at 0, 1, 2, 3.
  const double x = at - static_cast<double>(place.first);
  const double a = x - 1.0, b = x - 2.0, c = x - 3.0;
  place.weight = {-a * b * c / 6.0, x * b * c / 2.0, -x * a * c / 2.0, x * a * b / 6.0};
  return place;
}
// The value at `wanted` where `values` stand at `places`.
[[nodiscard]] double between_lanes(const Lanes& values, const Lanes& places, double wanted);

}  // namespace dryclock::models
