// Plain words for what holds a step back, and for spans of time.
#pragma once

#include <optional>
#include <string>

#include "base/time.hpp"
#include "models/piece.hpp"

namespace dryclock::engine {

// "edge 3.1 g/m2, recess 11 g/m2"; where no liquid is left, the zone with the least bond.
[[nodiscard]] std::string still_wet(const std::optional<models::Piece>& piece,
                                    const models::Thresholds& thresholds);
// "recess: 11 g/m2 left, 6.1 standard hours to go"; "field: bond 0.42 of 0.75". `which` is not reached yet.
[[nodiscard]] std::string held_by(const models::PieceView& view, models::Milestone which,
                                  const models::Thresholds& thresholds);
// "2 h 10 min", "3 days 4 h", "0 min".
[[nodiscard]] std::string span(Millis length);
// "12", "3.1", "0.25": two figures, as many as anyone can act on.
[[nodiscard]] std::string figure(double value);

}  // namespace dryclock::engine
