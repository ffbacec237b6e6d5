// Broken sensors and wrong entries: nothing they say may bring a state to a halt. What is not a number or out
// of all reason is replaced or moved inside; the flags (Validity) tell the user, this only keeps the sums
// finite.
#pragma once

#include "models/catalogue.hpp"

namespace dryclock::models {

// The nearest value in low..high, or `otherwise` for what is not finite.
[[nodiscard]] double safe_number(double value, double low, double high, double otherwise);

// Air as in clamped(); a panel or a speed that makes no sense counts as not measured, heat as none.
[[nodiscard]] Surroundings made_safe(const Surroundings& given);
[[nodiscard]] PanelThermal made_safe(const PanelThermal& given);

}  // namespace dryclock::models
