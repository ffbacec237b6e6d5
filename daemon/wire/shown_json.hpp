// The payload of a `shown` row: short, for there are many. Whose it is, its topic says. Times are minutes
// from "at", which is minutes since 1970; probabilities and bond are per mille, water is 0.1 g/m2.
//   {"why":"announced","at":29384760,"release":[12,[900,1400]],"hand_over":870,
//    "pieces":[[9,[981,-30],[640,[-5,20,310],"edge"],[650],0,[3,18,61],[90,120,180]]],
//    "alerts":[["raised","dew","7","urgent","Dew is near."]],"deliveries":[["phone","dew/7"]]}
// No "why": hourly.
// A piece: [number, wrap, trim, refit, clear, water, bond, liquid gone, may leave]; 0: as before. Water and
// bond: [low, likely, high]. In rows of before there was a "clear" a piece's "dry" stands in its place. A
// milestone: [probability, announced at, or [early, likely, late], zone that holds it back, held by, worth a
// look since, 1 by the user's word], cut where the rest is none or as before. An alert: [step, rule, subject,
// level, text]. A delivery: [channel, alert, why it was given up].
#pragma once

#include <string>
#include <string_view>

#include "base/result.hpp"
#include "domain/shown.hpp"

namespace dryclock::wire {

[[nodiscard]] std::string to_json(const Shown& shown);

// `vehicle`: that the topic names (shown_vehicle), 0: none. What a later program says beside is passed over.
// Problem: not JSON, a value of another kind, or one that must be there is missing (`where`: JSON pointer).
[[nodiscard]] Result<Shown> read_shown(VehicleId vehicle, std::string_view text);

}  // namespace dryclock::wire
