// The payload of a `shown` row: short, for there are many. Times are minutes from "at", which is minutes
// since 1970; probabilities and bond are per mille, water is 0.1 g/m2.
// A milestone is [probability, announced, early, likely, late, zone that holds it back, held by].
//   {"why":"hourly","at":29384760,"vehicle":{"id":7,"release":[12,null,900,1400],"hand_over":870,
//    "pieces":[{"id":9,"dry":[12,null,900,1400,null,"recess"],"water":[3,18,61],"bond":[90,120,180]}]}}
#pragma once

#include <string>
#include <string_view>

#include "base/result.hpp"
#include "domain/shown.hpp"

namespace dryclock::wire {

[[nodiscard]] std::string to_json(const Shown& shown);

// What a later program says beside is passed over. Problem: not JSON, a value of another kind, or one that
// must be there is missing (`where`: JSON pointer).
[[nodiscard]] Result<Shown> read_shown(std::string_view text);

}  // namespace dryclock::wire
