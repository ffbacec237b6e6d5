// Plain words for what holds a step back, and for what has changed.
#pragma once

#include <optional>
#include <string>

#include "base/time.hpp"
#include "domain/setup.hpp"
#include "engine/shop.hpp"
#include "models/piece.hpp"

namespace dryclock::engine {

// "edge 3.1 g/m2, recess 11 g/m2"; where no liquid is left, the zone with the least bond.
[[nodiscard]] std::string still_wet(const std::optional<models::Piece>& piece,
                                    const models::Thresholds& thresholds);
// "recess: 11 g/m2 left, 6.1 standard hours to go"; "field: bond 0.42 of 0.75". `which` is not reached yet.
[[nodiscard]] std::string held_by(const models::PieceView& view, models::Milestone which,
                                  const models::Thresholds& thresholds);
// "front bumper 1/2": a piece in the shop's own words; a panel that the catalogue does not know stands as it
// was told.
[[nodiscard]] std::string piece_words(const Catalogue& catalogue, const std::string& panel, int part,
                                      int parts);
// "12", "3.1", "0.25": two figures, as many as anyone can act on.
[[nodiscard]] std::string figure(double value);

// "The clock was set back by 2 h; rows 3 to 9 are dated anew."
[[nodiscard]] std::string clock_words(const Redated& told);
// "Changed: film 'baseline', panel 'bonnet'. 4 pieces are estimated anew, on demo-1."
[[nodiscard]] std::string changed_words(const Shop::Changed& changed);

}  // namespace dryclock::engine
