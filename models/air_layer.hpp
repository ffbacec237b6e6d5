// The thin layer of air over the film: how fast it carries vapour away. It holds about 1 % of the resistance
// of a film stack, so a fan hardly helps through the film; over an open edge or bare water it is everything.
#pragma once

#include "models/units.hpp"

namespace dryclock::models {

// How the panel's outer face lies, for free convection.
enum class Face { vertical, up, down };

// Free convection from a plate to still air; `length` is the height of a vertical face, area over perimeter
// of a horizontal one. [W/(m2 K)] Churchill and Chu 1975 (vertical, any Ra); McAdams 1954 (horizontal: 0.54
// Ra^1/4, 0.15 Ra^1/3 above Ra 1e7, 0.27 Ra^1/4 where the buoyancy presses the air against the face); from
// memory. Never below pure conduction over `length`. Properties at the mean of panel and air.
[[nodiscard]] HeatTransfer free_convection(Face face, Celsius panel, Celsius air, Metres length);

// Laminar flow along a flat plate: Sh = 0.664 Re^1/2 Sc^1/3. [m/s] Pohlhausen; from memory; Re up to 5e5,
// beyond which it is a lower bound. 0 in air at rest.
[[nodiscard]] MetresPerSecond forced_mass_transfer(MetresPerSecond speed, Metres length, Celsius air);

// Mass transfer that goes with a convective heat transfer: h/(rho c_p Le^2/3). [m/s] Chilton and Colburn
// 1934.
[[nodiscard]] MetresPerSecond mass_transfer(HeatTransfer convective, Celsius air);

// Of a bay: the still-air value and the moving air's blended as the cube root of the sum of cubes (usual for
// mixed convection; from memory). `air_speed` in m/s; NaN: still. [m/s]
[[nodiscard]] MetresPerSecond air_layer_coefficient(MetresPerSecond still, double air_speed, Metres length,
                                                    Celsius air);

// h_m behind a panel, where a turned edge lies: the air of a cavity. [m/s] Assumption: D over 10 cm of
// stagnant air, 2.5e-5/0.1.
inline constexpr MetresPerSecond stagnant_air{2.5e-4};

// Over film on a panel in a bay: air_layer_coefficient() where moving air has swept half a metre of the panel
// before (assumption). [m/s]
[[nodiscard]] MetresPerSecond over_film(MetresPerSecond still, double air_speed, Celsius air);

// R_v T/h_m. [m2 s Pa/kg] About 5.9e7 in a still bay.
[[nodiscard]] Resistance air_resistance(MetresPerSecond coefficient, Celsius air);

// Vapour through stagnant air from a liquid's surface over `distance`, with Stefan's flow:
//   D p/(R_v T L) ln((p - e_outside)/(p - e_liquid)).
// [kg/(m2 s)] Geankoplis eq 6.2-22. `at_liquid` must lie below `total`.
[[nodiscard]] double stagnant_flux(SquareMetresPerSecond diffusivity, Celsius temperature, Pascal total,
                                   Pascal at_liquid, Pascal outside, Metres distance);

// Dry air at 101325 Pa: what the correlations above need. Sutherland's viscosity, ideal-gas density.
struct AirProperties {
  double density = 0.0;              // kg/m3
  double kinematic_viscosity = 0.0;  // m2/s
  double thermal_diffusivity = 0.0;  // m2/s
  double conductivity = 0.0;         // W/(m K)
};
// Within 1 % of handbook tables, -20..100 C.
[[nodiscard]] AirProperties air_properties(Celsius air);

}  // namespace dryclock::models
