// Which units a quantity may come in, which one it has where nobody says, and what is made of it.
#pragma once

#include "domain/types.hpp"

namespace dryclock {

[[nodiscard]] constexpr bool fits(Unit unit, Quantity quantity) {
  switch (quantity) {
    case Quantity::air_temperature:
    case Quantity::panel_temperature:
      return unit == Unit::celsius || unit == Unit::fahrenheit || unit == Unit::kelvin;
    case Quantity::relative_humidity:
      return unit == Unit::percent || unit == Unit::fraction;
    case Quantity::air_speed:
      return unit == Unit::metres_per_second;
  }
  return false;
}

[[nodiscard]] constexpr Unit usual_unit(Quantity quantity) {
  switch (quantity) {
    case Quantity::relative_humidity:
      return Unit::percent;
    case Quantity::air_speed:
      return Unit::metres_per_second;
    case Quantity::air_temperature:
    case Quantity::panel_temperature:
      break;
  }
  return Unit::celsius;
}

// What a sensor sent, corrected and in the units of a Reading.
[[nodiscard]] constexpr double converted(double raw, const SensorMapping& mapping) {
  const double corrected = mapping.slope * raw + mapping.offset;
  switch (mapping.unit) {
    case Unit::fahrenheit:
      return (corrected - 32.0) / 1.8;
    case Unit::kelvin:
      return corrected - 273.15;
    case Unit::fraction:
      return corrected * 100.0;
    case Unit::celsius:
    case Unit::percent:
    case Unit::metres_per_second:
      break;
  }
  return corrected;
}

}  // namespace dryclock
