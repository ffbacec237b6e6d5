#include "engine/solvent_watch.hpp"

#include <cmath>

#include "engine/piece_spec.hpp"
#include "models/solvent.hpp"

namespace dryclock::engine {
namespace {

constexpr Millis looked_back = std::chrono::hours{1};

// Pulled pieces count too: their alcohol is in the air all the same.
double alcohol_grams(const BaySetup& bay, const Shop& shop, double sprayed_g_m2, Time now) {
  double grams = 0.0;
  for (const auto& [id, vehicle] : shop.vehicles()) {
    if (!vehicle.plan.valid) {
      continue;
    }
    for (const auto& piece : vehicle.plan.pieces) {
      if (piece.laid > now - looked_back && piece.laid <= now &&
          vehicle.plan.bay_at(piece.laid) == bay.name) {
        grams += sprayed_g_m2 * area_of(piece.lay, shop.catalogue()) * piece.spec.solution.alcohol_fraction;
      }
    }
  }
  return grams;
}

}  // namespace

std::optional<SolventWarning> solvent_warning(const BaySetup& bay, const Shop& shop,
                                              const AlertSettings& settings, double air_c, Time now) {
  if (!bay.volume_m3) {
    return std::nullopt;
  }
  const models::SolventLimits limits;
  const models::SolventUse use{.alcohol_grams = alcohol_grams(bay, shop, settings.sprayed_g_m2, now),
                               .volume_m3 = *bay.volume_m3,
                               .air_changes_per_h = 0.0,
                               .air = models::Celsius{air_c}};
  const auto bound = models::solvent_bound(use, limits);
  if (!bound.may_exceed_day && !bound.may_reach_explosive) {
    return std::nullopt;
  }
  return SolventWarning{
      {"alerts.solvent",
       {say::text("bay", bay.name), say::number("limit", Measure::concentration, limits.day_ppm),
        say::text("explosive", bound.may_reach_explosive ? "yes" : "no"),
        say::number("peak", Measure::concentration, std::round(bound.peak_ppm)),
        say::number("alcohol", Measure::mass, std::round(use.alcohol_grams))}},
      {"advice.solvent",
       {say::number("sprayed", Measure::mass, std::round(settings.sprayed_g_m2)),
        say::number("volume", Measure::volume, rounded_to(*bay.volume_m3, 1))}}};
}

}  // namespace dryclock::engine
