#include "models/pace.hpp"

#include <cmath>

#include "models/humid_air.hpp"

namespace dryclock::models {

double permeability_ratio(Celsius temperature, double activation_energy) {
  return std::exp(activation_energy / molar_gas_constant *
                  (1.0 / reference_temperature.kelvin() - 1.0 / temperature.kelvin()));
}

double activity_at_panel(Celsius panel, Celsius air, Humidity humidity) {
  return vapour_pressure(air, humidity) / saturation_pressure(panel);
}

double pace(Celsius panel, Celsius air, Humidity humidity, double activation_energy) {
  const double theta = permeability_ratio(panel, activation_energy) *
                       (saturation_pressure(panel) / saturation_pressure(reference_temperature));
  return theta * (1.0 - activity_at_panel(panel, air, humidity)) / (1.0 - reference_activity);
}

}  // namespace dryclock::models
