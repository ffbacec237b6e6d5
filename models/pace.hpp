// Pace: how fast this air dries film now, against 21 C and 50 %RH. Its integral is in standard hours:
// a piece needs a number of them, the bay delivers them.
#pragma once

#include "models/catalogue.hpp"
#include "models/units.hpp"

namespace dryclock::models {

inline constexpr Celsius reference_temperature{21.0};
inline constexpr double reference_activity = 0.5;          // 50 %RH at the panel's temperature
inline constexpr double common_activation = 13'000.0;      // J/mol, of the permeability on the pressure basis
inline constexpr double molar_gas_constant = 8.314462618;  // J/(mol K)

// f(T) = P(T)/P(21 C) = exp(-E/R_g (1/T - 1/294.15)). [-] Arrhenius, E in J/mol on the pressure basis.
[[nodiscard]] double permeability_ratio(Celsius temperature, double activation_energy);

// Water activity that the air imposes on a panel of another temperature: RH p_sat(T_air)/p_sat(T_panel). [-]
// Above 1 the panel is colder than the dew point.
[[nodiscard]] double activity_at_panel(Celsius panel, Celsius air, Humidity humidity);

// theta(T_panel) (1 - a_out) / 0.5 with theta = f(T) p_sat(T)/p_sat(21 C). [-] 1 at 21 C and 50 %RH; negative
// where the panel is colder than the dew point. E = 13 kJ/mol unless a stack says otherwise.
[[nodiscard]] double pace(Celsius panel, Celsius air, Humidity humidity,
                          double activation_energy = common_activation);

}  // namespace dryclock::models
