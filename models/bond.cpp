#include "models/bond.hpp"

#include <algorithm>
#include <cmath>

namespace dryclock::models {

double bond_fraction(double equivalent_seconds) {
  if (!(equivalent_seconds > 0.0)) {
    return 0.0;
  }
  return std::clamp(0.5 + 0.2154 * std::log10(equivalent_seconds / 1200.0), 0.0, 1.0);
}

double bond_rate(Celsius temperature) {
  constexpr double warm_cap = 1.3;    // decades
  constexpr double cold_guard = 4.0;  // decades, reached at -13 C
  const double from_23 = temperature.value() - 23.0;
  // Far below Tg the formula has a pole; the guard is reached long before.
  const double decades = from_23 < -60.0 ? -cold_guard : 8.211 * from_23 / (109.60 + from_23);
  return std::pow(10.0, std::clamp(decades, -cold_guard, warm_cap));
}

}  // namespace dryclock::models
