#include "models/solvent.hpp"

#include <algorithm>
#include <cmath>

#include "models/humid_air.hpp"
#include "models/pace.hpp"

namespace dryclock::models {
namespace {

constexpr double working_day_h = 8.0;

// (1 - e^-x)/x: what a well-mixed room keeps, on average, of a puff at the start.
double mean_kept(double x) {
  return x > 1e-9 ? -std::expm1(-x) / x : 1.0;
}

}  // namespace

Pascal isopropanol_vapour_pressure(Celsius temperature) {
  const double t = std::clamp(temperature.value(), -26.0, 83.0);
  return Pascal{1e5 * std::pow(10.0, 5.24268 - 1580.92 / (219.61 + t))};
}

SolventBound solvent_bound(const SolventUse& use, const SolventLimits& limits) {
  const double pressure = standard_pressure.value();
  const double evaporated = std::max(0.0, use.alcohol_grams) / isopropanol_molar_mass * molar_gas_constant *
                            use.air.kelvin() / (use.volume_m3 * pressure) * 1e6;
  const double saturation = isopropanol_vapour_pressure(use.air).value() / pressure * 1e6;

  SolventBound bound;
  bound.saturated = evaporated > saturation;
  bound.peak_ppm = std::min(evaporated, saturation);
  // Liquid that waits goes on evaporating, so a saturated room is thinned by nothing.
  bound.day_ppm = bound.saturated
                      ? bound.peak_ppm
                      : bound.peak_ppm * mean_kept(working_day_h * std::max(0.0, use.air_changes_per_h));
  bound.may_exceed_day = bound.day_ppm >= limits.day_ppm;
  bound.may_exceed_short = bound.peak_ppm >= limits.short_ppm;
  bound.may_reach_explosive = bound.peak_ppm >= 0.1 * limits.explosive_ppm;
  bound.ignitable_at_source = use.alcohol_grams > 0.0 && use.air >= limits.flash_point;
  return bound;
}

}  // namespace dryclock::models
