// The members of an ensemble side by side: one double each.
#pragma once

#include <array>
#include <cstddef>

namespace dryclock::models {

inline constexpr std::size_t members = 32;
using Lanes = std::array<double, members>;

// Where something lies among lanes: after `left`, by a share of the way to the next. [0..1]
struct LanePlace {
  std::size_t left = 0;
  double share = 0.0;
  // What stands there, of what stands in these two lanes: along the line between them, the lower of them
  // where one is infinite.
  [[nodiscard]] double of(double at_left, double at_next) const;
};

// Of `wanted` among `places`, which rise evenly. Beyond the ends: the end.
[[nodiscard]] LanePlace place_among(const Lanes& places, double wanted);
// The value at `wanted` where `values` stand at `places`.
[[nodiscard]] double between_lanes(const Lanes& values, const Lanes& places, double wanted);

}  // namespace dryclock::models
