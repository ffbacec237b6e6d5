#include "models/water_layer.hpp"

#include "models/humid_air.hpp"

namespace dryclock::models {
namespace {

constexpr double water_molar_mass = 18.015;    // g/mol
constexpr double alcohol_molar_mass = 60.1;    // g/mol, isopropyl alcohol (NIOSH Pocket Guide)
constexpr double separation_factor = 10.0;     // assumption, see the header
constexpr double liquid_density_g = 0.998e6;   // g/m3, water at 21 C
constexpr double highest_alcohol_share = 0.5;  // beyond it nobody sprays, and Raoult misleads

}  // namespace

double water_activity(double alcohol_fraction, double left) {
  const double share = std::clamp(alcohol_fraction, 0.0, highest_alcohol_share);
  const double remaining = std::clamp(left, 0.0, 1.0);
  const double water = (1.0 - share) * remaining / water_molar_mass;
  const double alcohol = share * std::pow(remaining, separation_factor) / alcohol_molar_mass;
  return water > 0.0 ? water / (water + alcohol) : 1.0;
}

double front_rate(Celsius panel, Celsius air, Humidity humidity) {
  const GramsPerCubicMetre front = vapour_density(panel, saturation_pressure(panel));
  const GramsPerCubicMetre far = vapour_density(air, vapour_pressure(air, humidity));
  const double difference = std::max(0.0, (front - far).value());
  return 2.0 * vapour_diffusivity(panel).value() * difference / liquid_density_g;
}

}  // namespace dryclock::models
