// What holds a step back, and what has changed, as facts: wording/ and the page put them into words.
#pragma once

#include <optional>
#include <string>

#include "domain/fact.hpp"
#include "domain/redated.hpp"
#include "domain/types.hpp"
#include "engine/shop.hpp"
#include "models/piece.hpp"

namespace dryclock::engine {

// The zones that still hold water: likely, and at most; where no liquid is left, the zone with the least
// bond.
[[nodiscard]] Fact still_wet(const std::optional<models::Piece>& piece, const models::Thresholds& thresholds);
// The zone that limits, how much of what it holds and how much is needed, and the standard hours to go.
// `which` is not reached yet.
[[nodiscard]] Fact held_by(const models::PieceView& view, models::Milestone which,
                           const models::Thresholds& thresholds);
// A piece by its panel: "front bumper 1/2".
[[nodiscard]] Fact piece_fact(const std::string& panel, int part, int parts);

// A span as it is said, so that one that reads the same is the same: in whole minutes, from a day on in whole
// hours.
[[nodiscard]] Value span_value(std::string_view name, Millis length);

// How far the clock was set, and the rows that are dated anew.
[[nodiscard]] Fact clock_fact(const Redated& redated);
// Which settings changed, and what is estimated anew.
[[nodiscard]] Fact changed_fact(const Shop::Changed& changed);

}  // namespace dryclock::engine
