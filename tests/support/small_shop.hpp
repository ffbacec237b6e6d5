// An invented shop for tests: two bays, one sensor in each, and a short catalogue.
#pragma once

#include "domain/setup.hpp"

namespace dryclock::support {

// `front`: sensor `probe` sends {"t":..,"h":..} on bays/front, times of receipt count.
// `back`: sensor `gateway` sends {"t":..,"h":..,"at":..} on bays/back, its own times count.
// Films `baseline` (40, 150 and 10 micrometres) and `open`; solutions `slip` and `tack`; panels
// `bonnet` (field, edge), `bumper` (field, edge, recess) and `lamp` (field).
[[nodiscard]] Setup small_shop();

}  // namespace dryclock::support
