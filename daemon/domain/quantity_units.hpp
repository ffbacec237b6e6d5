// Which units a quantity may come in, and which one it has where nobody says. Tables, no more.
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

}  // namespace dryclock
