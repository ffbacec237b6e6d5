#include "models/bond.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace dryclock::models {

double bond_fraction(double equivalent_seconds) {
  if (!(equivalent_seconds > 0.0)) {
    return 0.0;
  }
  return std::clamp(0.5 + bond_per_decade * std::log10(equivalent_seconds / bond_half), 0.0, 1.0);
}

double mean_bond(double product, std::size_t parts) {
  return std::clamp(0.5 + bond_per_decade * std::log10(product) / static_cast<double>(parts), 0.0, 1.0);
}

double bond_level(double fraction, std::size_t parts) {
  if (fraction <= 0.0) return 0.0;
  if (fraction > 1.0) return std::numeric_limits<double>::infinity();
  constexpr double rounding = 1e-13;  // of the product: a bond that is complete counts as 1
  return std::pow(10.0, static_cast<double>(parts) * (fraction - 0.5) / bond_per_decade) * (1.0 - rounding);
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
