// Pace: how fast this air dries film now, against 21 C and 50 %RH. Its integral is in standard hours:
// a piece needs a number of them, the bay delivers them.
#pragma once

#include "models/catalogue.hpp"
#include "models/units.hpp"

namespace dryclock::models {

// theta(T_panel) (1 - a_out) / 0.5, a_out = RH p_sat(T_air)/p_sat(T_panel); negative where water condenses.
// [-] physics.md "Thermal time and pace"; E = 13 kJ/mol unless a stack says otherwise.
[[nodiscard]] double pace(Celsius panel, Celsius air, Humidity humidity, double activation_energy = 13'000.0);

}  // namespace dryclock::models
