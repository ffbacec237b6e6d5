#include "models/bond.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "models/pace.hpp"

namespace dryclock::models {
namespace {

// Williams, Landel and Ferry: universal constants (17.44, 51.6 K at Tg) moved from Tg = -35 C to a reference:
// c2 = 51.6 + reference - Tg, c1 = 17.44 51.6/c2. [decades]
struct Moved {
  double reference_c, c1, c2;
};
constexpr Moved to_23{23.0, 8.211, 109.60};
constexpr Moved to_20{20.0, 8.442, 106.60};

double shift(Celsius temperature, const Moved& moved) {
  const double apart = temperature.value() - moved.reference_c;
  // Far below Tg the formula has a pole; the guard is reached long before.
  return apart < -60.0 ? -1e3 : moved.c1 * apart / (moved.c2 + apart);
}

double within_guards(double decades) {
  constexpr double warm_cap = 1.3;
  constexpr double cold_guard = 4.0;  // reached at -13 C
  return std::pow(10.0, std::clamp(decades, -cold_guard, warm_cap));
}

}  // namespace

double bond_fraction(double equivalent_seconds) {
  if (!(equivalent_seconds > 0.0)) {
    return 0.0;
  }
  return std::clamp(0.5 + bond_per_decade * std::log10(equivalent_seconds / bond_half), 0.0, 1.0);
}

double bond_seconds(double fraction) {
  return bond_begins * std::pow(bond_complete / bond_begins, fraction);
}

double mean_bond(double product, std::size_t parts) {
  return std::clamp(0.5 + bond_per_decade * std::log10(product) / static_cast<double>(parts), 0.0, 1.0);
}

double bond_rate(Celsius temperature) {
  return within_guards(shift(temperature, to_23));
}

double bond_rate(Celsius temperature, BondLaw law) {
  if (law == BondLaw::williams_landel_ferry) return within_guards(shift(temperature, to_20));
  const double inverse = 1.0 / Celsius{to_20.reference_c}.kelvin() - 1.0 / temperature.kelvin();
  return within_guards(bond_energy / molar_gas_constant * inverse / std::numbers::ln10);
}

}  // namespace dryclock::models
