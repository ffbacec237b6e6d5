// What was seen of film as it dried, as a shop learns from it.
#pragma once

#include <cstddef>
#include <cstdint>
#include <vector>

#include "models/lanes.hpp"
#include "models/laid_piece.hpp"
#include "models/shop_levels.hpp"

namespace dryclock::models {

enum class Sign : std::uint8_t {
  wet,
  hazy,
  clear,  // through the film on paint, by eye: speaks of the water that is left (models/inspection.hpp)
  held,
  lifted,  // what a wrapped or trimmed edge did: speaks of its wet share then
  mostly_wet,
  half_wet,
  tenth_wet,
  none_wet,  // what was counted at a strip on a clear plate: speaks of its wet share; no eye's threshold
};

// With what the film had drunk by then, so that it can be weighed without the course.
struct Seen {
  Sign sign = Sign::wet;
  double seconds = 0.0;  // since lay
  Lanes drunk{};
  double front_squared = 0.0;
  bool operator==(const Seen&) const = default;
};
struct ZoneEvidence {
  double usual = 1.0;  // g/m2
  Margin margin;
  std::vector<Seen> seen;  // in order of time, later ones within 10 min replace
  bool operator==(const ZoneEvidence&) const = default;
};
struct PieceEvidence {
  std::vector<ZoneEvidence> zones;
  bool operator==(const PieceEvidence&) const = default;
};

}  // namespace dryclock::models
