// The chance that a piece is where a milestone asks it to be, and what its zones hold, at moments of its
// course, given what the shop is.
#pragma once

#include <array>
#include <cstddef>
#include <span>
#include <vector>

#include "models/laid_piece.hpp"
#include "models/milestone.hpp"
#include "models/quantiles.hpp"
#include "models/shop_levels.hpp"

namespace dryclock::models {

class PieceReach {
 public:
  // The piece must outlive this. Its trace may go beyond now (a forecast).
  PieceReach(const LaidPiece& piece, const Thresholds& thresholds, const ShopLevels& levels);

  // The chance to be there at a point of the trace, for each node. [0..1] Never falls with time.
  void chances(Milestone which, std::size_t point, std::span<const ShopNode> nodes, std::span<double> out);
  // Over all of what the shop may be, by the nodes' weights.
  [[nodiscard]] double chance(Milestone which, std::size_t point, std::span<const ShopNode> nodes);
  // The zone that is least likely to be there.
  [[nodiscard]] std::size_t limiting_zone(Milestone which, std::size_t point, std::span<const ShopNode> nodes);
  // Of one zone: that it is at what the milestone asks.
  [[nodiscard]] double zone_chance(Milestone which, std::size_t zone, std::size_t point,
                                   std::span<const ShopNode> nodes);
};

// What a zone holds, over all of what the shop may be.
struct ZoneHolds {
  Quantiles water;      // g/m2 of liquid left, mean over the zone
  Quantiles wet_share;  // of its area
  Quantiles excess;     // moisture from the liquid still in the film, of what it holds over liquid
  Quantiles bond;       // of the final strength, mean over the zone
};
[[nodiscard]] ZoneHolds zone_holds(const LaidPiece& piece, std::size_t zone, std::size_t point,
                                   std::span<const ShopNode> nodes, const ShopLevels& levels);

}  // namespace dryclock::models
