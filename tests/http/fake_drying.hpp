// How the invented shop's film dries: 1 g/m2 an hour, whatever the air. Not physics.
#pragma once

#include "domain/view.hpp"

namespace dryclock::fake {

[[nodiscard]] models::ZoneView zone_after(models::ZoneKind kind, double hours_gone);
void bring_up_to(PieceSummary& piece, Time now);
void bring_up_to(VehicleSummary& vehicle, Time now);

}  // namespace dryclock::fake
