#include "models/data_sheet.hpp"

#include <cmath>

#include "models/humid_air.hpp"

namespace dryclock::models {

Permeability permeability_from_transmission(double grams_per_m2_day, Metres thickness, Celsius temperature,
                                            Humidity difference, double activation_energy) {
  const double rate = grams_per_m2_day * 1e-3 / 86'400.0;
  const double pressure = saturation_pressure(temperature).value() * difference.value();
  const double to_21 =
      std::exp(-activation_energy / 8.314462618 * (1.0 / 294.15 - 1.0 / temperature.kelvin()));
  return Permeability{rate * thickness.value() / pressure * to_21};
}

Permeability permeability_from_perms(double perms, Metres thickness) {
  return Permeability{perms * us_perm * thickness.value()};
}

}  // namespace dryclock::models
