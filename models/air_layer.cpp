#include "models/air_layer.hpp"

#include <algorithm>
#include <cmath>

#include "models/humid_air.hpp"

namespace dryclock::models {
namespace {

constexpr double dry_air_gas_constant = 287.05;  // J/(kg K)
constexpr double heat_capacity = 1006.0;         // J/(kg K), at constant pressure
constexpr double prandtl = 0.71;
constexpr double gravity = 9.81;  // m/s2

double nusselt(Face face, double rayleigh, bool warm_side) {
  if (face == Face::vertical) {
    const double root = 0.825 + 0.387 * std::pow(rayleigh, 1.0 / 6.0) /
                                    std::pow(1.0 + std::pow(0.492 / prandtl, 9.0 / 16.0), 8.0 / 27.0);
    return root * root;
  }
  const bool rises_away = (face == Face::up) == warm_side;
  if (!rises_away) {
    return 0.27 * std::pow(rayleigh, 0.25);
  }
  return rayleigh > 1e7 ? 0.15 * std::cbrt(rayleigh) : 0.54 * std::pow(rayleigh, 0.25);
}

}  // namespace

AirProperties air_properties(Celsius air) {
  const double t = std::clamp(air, coldest, hottest).kelvin();
  const double density = standard_pressure.value() / (dry_air_gas_constant * t);
  const double viscosity = 1.716e-5 * std::pow(t / 273.15, 1.5) * (273.15 + 110.4) / (t + 110.4);
  const double diffusivity = viscosity / density / prandtl;
  return {density, viscosity / density, diffusivity, diffusivity * density * heat_capacity};
}

HeatTransfer free_convection(Face face, Celsius panel, Celsius air, Metres length) {
  const Celsius mean = air + (panel - air) * 0.5;
  const AirProperties properties = air_properties(mean);
  const double l = length.value();
  const double rayleigh = gravity / mean.kelvin() * std::abs((panel - air).value()) * l * l * l /
                          (properties.kinematic_viscosity * properties.thermal_diffusivity);
  return HeatTransfer{std::max(1.0, nusselt(face, rayleigh, panel >= air)) * properties.conductivity / l};
}

MetresPerSecond forced_mass_transfer(MetresPerSecond speed, Metres length, Celsius air) {
  const double viscosity = air_properties(air).kinematic_viscosity;
  const double diffusivity = vapour_diffusivity(air).value();
  const double reynolds = std::max(0.0, speed.value()) * length.value() / viscosity;
  const double sherwood = 0.664 * std::sqrt(reynolds) * std::cbrt(viscosity / diffusivity);
  return MetresPerSecond{sherwood * diffusivity / length.value()};
}

MetresPerSecond mass_transfer(HeatTransfer convective, Celsius air) {
  const AirProperties properties = air_properties(air);
  const double lewis = properties.thermal_diffusivity / vapour_diffusivity(air).value();
  return MetresPerSecond{convective.value() /
                         (properties.density * heat_capacity * std::cbrt(lewis * lewis))};
}

MetresPerSecond air_layer_coefficient(MetresPerSecond still, double air_speed, Metres length, Celsius air) {
  if (!(air_speed > 0.0)) {
    return still;
  }
  const double moving = forced_mass_transfer(MetresPerSecond{air_speed}, length, air).value();
  return MetresPerSecond{std::cbrt(std::pow(still.value(), 3) + std::pow(moving, 3))};
}

MetresPerSecond over_film(MetresPerSecond still, double air_speed, Celsius air) {
  constexpr Metres swept{0.5};
  return air_layer_coefficient(still, air_speed, swept, air);
}

Resistance air_resistance(MetresPerSecond coefficient, Celsius air) {
  return Resistance{vapour_gas_constant * std::clamp(air, coldest, hottest).kelvin() / coefficient.value()};
}

double stagnant_flux(SquareMetresPerSecond diffusivity, Celsius temperature, Pascal total, Pascal at_liquid,
                     Pascal outside, Metres distance) {
  return diffusivity.value() * total.value() /
         (vapour_gas_constant * temperature.kelvin() * distance.value()) *
         std::log((total - outside) / (total - at_liquid));
}

}  // namespace dryclock::models
