// Where nobody measures, nothing dries: such minutes are jumped over, for there may be millions of them. A
// clock that began in 1970, or an arrival dated by hand, would otherwise be walked through minute by minute.
#pragma once

#include <optional>

#include "engine/bays.hpp"
#include "engine/vehicle_plan.hpp"

namespace dryclock::engine {

// There is no air at t in the bay where the vehicle stands from t on: the first minute after t at which
// anything about it can differ from the minute before. Absent: none will, as things stand.
[[nodiscard]] std::optional<Time> next_change(const VehiclePlan& plan, const Bays& bays, Time t);

// The air is not known at both ends of the minute (t - 1 min, t]: the first later minute for which it may be.
[[nodiscard]] std::optional<Time> next_air(const VehiclePlan& plan, const Bays& bays, Time t);

}  // namespace dryclock::engine
