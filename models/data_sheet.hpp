// Numbers as data sheets print them, turned into what the models need. A transmission rate means nothing
// without the temperature and humidity it was measured at, so both are asked for.
#pragma once

#include "models/units.hpp"

namespace dryclock::models {

// One US perm (grain/(h ft2 inHg)). [kg/(m2 s Pa)] ASTM E96, Table 1: 5.72e-8 g/(Pa s m2).
inline constexpr double us_perm = 5.7214e-11;
// One perm-inch. [kg/(m s Pa)] ASTM E96, Table 1: 1.45e-9 g/(Pa s m).
inline constexpr double us_perm_inch = 1.4532e-12;

// Permeability of a sheet from its water vapour transmission rate in g/(m2 day), measured at `temperature`
// with `difference` in relative humidity across it (ASTM E96, ISO 15106): rate L/(difference p_sat(T)).
// [kg/(m s Pa)] It holds at that temperature; `activation_energy` (J/mol, pressure basis) brings it to 21 C.
[[nodiscard]] Permeability permeability_from_transmission(double grams_per_m2_day, Metres thickness,
                                                          Celsius temperature, Humidity difference,
                                                          double activation_energy = 13'000.0);

// Permeability from a sheet's permeance in US perms. [kg/(m s Pa)]
[[nodiscard]] Permeability permeability_from_perms(double perms, Metres thickness);

}  // namespace dryclock::models
