// What holds a step back, and what has changed, as facts: wording/ and the page put them into words.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "domain/fact.hpp"
#include "domain/redated.hpp"
#include "domain/types.hpp"
#include "engine/shop.hpp"
#include "models/milestone.hpp"

namespace dryclock::engine {

// Why a step was early: the zones that are likely to hold liquid still, with how much, likely and at most;
// where there is none, the zone whose bond is furthest below what the milestone asks; else what is unsure.
[[nodiscard]] Fact still_wet(const std::vector<ZoneView>& zones, models::Milestone which,
                             const models::Thresholds& thresholds);
// What holds the milestone back in the zone that limits it, and how much of that is needed. `which` is not
// reached yet.
[[nodiscard]] Fact held_by(const std::vector<ZoneView>& zones, models::ZoneKind limiting,
                           models::Milestone which, const models::Thresholds& thresholds);
// "zone", by its word.
[[nodiscard]] Value zone_value(models::ZoneKind zone);

// A span as it is said, so that one that reads the same is the same: in whole minutes, from a day on in whole
// hours.
[[nodiscard]] Value span_value(std::string_view name, Millis length);

// How far the clock was set, and the rows that are dated anew.
[[nodiscard]] Fact clock_fact(const Redated& redated);
// Which settings changed, and what is estimated anew.
[[nodiscard]] Fact changed_fact(const Shop::Changed& changed);

}  // namespace dryclock::engine
