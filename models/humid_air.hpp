// Moist air: saturation, dew point, vapour density, diffusivity. Relative humidity and dew point are over
// liquid water at every temperature, also below 0 C, as sensors report them (WMO guide No. 8).
// Temperatures are clamped to [coldest, hottest]; out_of_range() tells when that happened.
#pragma once

#include <cstdint>

#include "models/catalogue.hpp"
#include "models/units.hpp"

namespace dryclock::models {

// Where the formulas hold. Below 0 C the equation over water is extrapolated (supercooled water), above 100 C
// no panel carries film.
inline constexpr Celsius coldest{-40.0};
inline constexpr Celsius hottest{120.0};
inline constexpr Pascal standard_pressure{101'325.0};
inline constexpr double vapour_gas_constant = 461.5;  // J/(kg K), of water vapour

// Over liquid water. [Pa] ASHRAE 2017 ch. 1 eq 6 (Hyland-Wexler), stated for 0..200 C; within 3e-4 of
// IAPWS-95 between 0 and 60 C.
[[nodiscard]] Pascal saturation_pressure(Celsius temperature);

// Its relative slope, d(ln p_sat)/dT. [1/K] the derivative of the same equation.
[[nodiscard]] double saturation_slope(Celsius temperature);

// Over ice. [Pa] ASHRAE 2017 ch. 1 eq 5, stated for -100..0 C; above 0 C it is evaluated at 0 C.
[[nodiscard]] Pascal saturation_pressure_ice(Celsius temperature);

// RH p_sat(T). [Pa] Humidity is clamped to 0..1.
[[nodiscard]] Pascal vapour_pressure(Celsius temperature, Humidity humidity);

// Temperature at which this vapour would be saturated over liquid water. [C] The inverse of
// saturation_pressure, to 1e-9 K; a pressure outside the range gives the end of the range.
[[nodiscard]] Celsius dew_point(Pascal vapour);

// The same over ice. [C] The inverse of saturation_pressure_ice; at most 0 C.
[[nodiscard]] Celsius frost_point(Pascal vapour);

// 1000 e/(R_v T). [g/m3] Ideal gas; within 0.3 % of real moist air up to 50 C.
[[nodiscard]] GramsPerCubicMetre vapour_density(Celsius temperature, Pascal vapour);

// 0.621945 e/(p - e). [kg vapour/kg dry air] ASHRAE 2017 ch. 1 eq 20.
[[nodiscard]] double humidity_ratio(Pascal vapour, Pascal pressure = standard_pressure);

// Of water vapour in air at 101325 Pa: 0.2178e-4 (T/273.15)^1.81. [m2/s] Massman 1998, -20..100 C.
[[nodiscard]] SquareMetresPerSecond vapour_diffusivity(Celsius temperature);

// air_out_of_range where temperature or humidity lie outside what the formulas cover (or are not numbers),
// else valid.
[[nodiscard]] std::uint8_t out_of_range(const Surroundings& air);

// The nearest air inside the range. What is not a number becomes the slow end: coldest, saturated.
[[nodiscard]] Surroundings clamped(const Surroundings& air);

}  // namespace dryclock::models
