// Unlike resistances of a film, side by side: one double each.
#pragma once

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
[[nodiscard]] LanePlace place_among(const Lanes& places, double wanted);
// The value at `wanted` where `values` stand at `places`.
[[nodiscard]] double between_lanes(const Lanes& values, const Lanes& places, double wanted);

}  // namespace dryclock::models
