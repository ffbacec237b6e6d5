// From when on film may be washed and pressed: advice, not a gate.
#pragma once

#include <optional>
#include <span>

#include "models/laid_piece.hpp"
#include "models/milestone.hpp"
#include "models/shop_levels.hpp"

namespace dryclock::compute {

// Seconds from now, `least` or more, until the bond of the piece's fields and edges (of its other zones where
// it has none) is as likely as not at `thresholds.strength_bond`. `carried` has been through `air`, the
// forecast every `step`, since it was `now` seconds old; beyond its end the last day goes on, for as much as
// three weeks. Absent: not within that, or without any air.
[[nodiscard]] std::optional<double> full_strength(const models::LaidPiece& carried, double now, double least,
                                                  std::span<const models::Surroundings> air,
                                                  models::Seconds step, const models::Thresholds& thresholds,
                                                  const models::ShopLevels& levels,
                                                  std::span<const models::ShopNode> nodes);

}  // namespace dryclock::compute
