#include "models/zone.hpp"

#include <algorithm>
#include <cmath>

#include "models/bond.hpp"
#include "models/humid_air.hpp"
#include "models/lane_loops.hpp"
#include "models/pace.hpp"
#include "models/safe_input.hpp"

namespace dryclock::models {
namespace {

constexpr double gone = -23.0;                  // ln of a wet share that no longer matters: 1e-10
constexpr double margin_floor = 1e-20;          // of the width: keeps logarithms finite
constexpr double wettest = 1e4, driest = 1e-3;  // g/m2 of solution that a member may start with

// ln of the wet share at which part i makes contact: the middle of equal parts, the first to dry first.
std::array<double, contact_parts> contact_levels() {
  std::array<double, contact_parts> levels{};
  for (std::size_t i = 0; i < contact_parts; ++i) {
    levels[i] = std::log((static_cast<double>(contact_parts - i) - 0.5) / static_cast<double>(contact_parts));
  }
  return levels;
}
const std::array<double, contact_parts> levels = contact_levels();

}  // namespace

void advance_dry_film(const FilmModes& modes, const ThermalStep& step, double jump, DryField& dry) {
  for (std::size_t j = 0; j < dry_modes; ++j) {
    const double jumps = jump * modes.dry_content[j];
    for (std::size_t m = 0; m < members; ++m) {
      dry[j][m] = (dry[j][m] - jumps) * step.dry_decay[j][m] - step.dry_drive[j][m];
    }
  }
}

Zone::Zone(const FilmModes& modes, const WaterLayer& layer, const Lanes& solution, double alcohol_fraction,
           double activity, double edge_width)
    : layer_(layer),
      alcohol_fraction_(std::clamp(alcohol_fraction, 0.0, 0.5)),
      edge_width_(std::max(0.0, edge_width)),
      outside_(activity) {
  for (auto& part : contact_) {
    part.fill(never);
  }
  for (std::size_t m = 0; m < members; ++m) {
    first_water_[m] = (1.0 - alcohol_fraction_) * safe_number(solution[m], driest, wettest, wettest);
    liquid_[m] = layer_.coordinate(first_water_[m]);
  }
  Lanes over_liquid{};
  over_liquid.fill(std::max(activity, water_activity(alcohol_fraction_, 1.0)));
  film_ = WetFilm(modes, activity, over_liquid, liquid_);
  // A layer that starts in patches: the film between them lies on the paint, in equilibrium with the air.
  for (std::size_t m = 0; m < members; ++m) {
    const double wetted = layer_.log_wetted(liquid_[m]);
    all_whole_ = all_whole_ && wetted == 0.0;
    for (std::size_t i = 0; i < contact_parts; ++i) {
      if (wetted < levels[i]) contact_[i][m] = 0.0;
    }
  }
}

double Zone::margin_left(double front_squared) const {
  if (edge_width_ <= 0.0) return 1.0;
  return std::max(margin_floor, 1.0 - std::sqrt(front_squared) / edge_width_);
}

void Zone::raise_liquid_activity(const FilmModes& modes, double at_least) {
  Lanes activity{};
  for (std::size_t m = 0; m < members; ++m) {
    const double left = layer_.water(liquid_[m]) / first_water_[m];
    activity[m] = std::max(at_least, water_activity(alcohol_fraction_, left));
  }
  film_.raise(modes, activity, liquid_);
}

// The air jumped between two steps: what the dry columns hold does not.
void Zone::move_outside(const FilmModes& modes, const ThermalStep& step) {
  if (outside_ == step.activity_before && film_.outer() == step.outer_before) return;
  film_.move_outside(modes, step.outer_before, liquid_);
  const double jump = step.activity_before - outside_;
  if (jump == 0.0 || all_whole_) return;
  const double margin = margin_left(front_squared_);
  for (std::size_t m = 0; m < members; ++m) {
    const double dry_share = 1.0 - margin * std::exp(layer_.log_wetted(liquid_[m]));
    for (std::size_t j = 0; j < dry_modes; ++j) {
      dry_[j][m] -= jump * modes.dry_content[j] * dry_share;
    }
  }
}

void Zone::advance(const FilmModes& modes, const ThermalStep& step, double front_squared, double clock_before,
                   double clock_after) {
  fresh_ = false;
  move_outside(modes, step);
  outside_ = step.activity_after;
  const double margin_before = std::log(margin_left(front_squared_));
  front_squared_ += front_squared;
  const double margin_after = std::log(margin_left(front_squared_));

  if (all_gone_) {
    film_.rest(step);
    advance_dry_film(modes, step, 0.0, dry_);  // move_outside() has done the jump
    return;
  }

  if (alcohol_fraction_ > 0.0) raise_liquid_activity(modes, step.highest_activity);
  const WetField before = film_.amplitudes();
  const Lanes liquid_before = liquid_;
  film_.advance(modes, step, liquid_);

  Shrinking shrinking;
  shrink(layer_, liquid_before, liquid_, margin_before, margin_after, shrinking);
  Extremes share{};
  extremes(shrinking.log_after, share);
  if (all_whole_ && share.lowest == 0.0) return;
  all_whole_ = false;
  step_dry(modes, step, film_.activity(), before, film_.amplitudes(), shrinking, dry_);

  for (std::size_t i = parts_touched_; i < contact_parts && share.lowest < levels[i]; ++i) {
    touch(shrinking, levels[i], clock_before, clock_after, contact_[i]);
    if (share.highest < levels[i]) parts_touched_ = i + 1;
  }
  all_gone_ = share.highest < gone;
}

double Zone::dry_limit() const {
  return layer_.coordinate(layer_.dry_limit / margin_left(front_squared_));
}

// What the modes left out take up at once is still in the layer right after the squeegee.
Lanes Zone::water() const {
  if (fresh_) return first_water_;
  Lanes water{};
  const double margin = margin_left(front_squared_);
  for (std::size_t m = 0; m < members; ++m) {
    water[m] = margin * layer_.water(liquid_[m]);
  }
  return water;
}

std::array<bool, members> Zone::dry() const {
  std::array<bool, members> dry{};
  const double limit = dry_limit();
  for (std::size_t m = 0; m < members; ++m) {
    dry[m] = liquid_[m] <= limit;
  }
  return dry;
}

Lanes Zone::excess(const FilmModes& modes) const {
  Lanes excess{};
  add_dry_columns(modes, dry_, excess);
  if (!all_gone_) {
    add_wet_columns(modes, layer_, margin_left(front_squared_),
                    {film_.activity(), film_.outer(), liquid_, film_.amplitudes()}, outside_, excess);
  }
  return excess;
}

double Zone::bond(double clock, std::size_t member) const {
  double product = 1.0;
  for (const Lanes& part : contact_) {
    product *= std::clamp(clock - part[member], bond_begins, bond_complete) * (1.0 / bond_half);
  }
  return mean_bond(product, contact_parts);
}

Lanes Zone::standard_hours(const FilmModes& modes, const Lanes& factor, double openness) const {
  Lanes hours{};
  const double limit = dry_limit();
  double front_hours = never;
  if (edge_width_ > 0.0 && openness > 0.0) {
    const double rate =
        openness * front_rate(reference_temperature, reference_temperature, Humidity{reference_activity});
    front_hours = std::max(0.0, edge_width_ * edge_width_ - front_squared_) / rate / 3600.0;
  }
  // liquid + inner.c + <1-xi, xi> a_eff falls steadily by (a_w - a_out)/r, whatever the modes do; stepping to
  // the reference air leaves it as it is.
  const double dryness = 1.0 - reference_activity;
  const double film_share = 1.0 - modes.air_share;
  const double flux = dryness / modes.resistance;
  for (std::size_t m = 0; m < members; ++m) {
    if (liquid_[m] <= limit) continue;
    const double rate = thermal_rate(modes.standard, factor[m]);
    const double film_rate = modes.standard.saturation * film_share / (factor[m] * modes.standard.film);
    const double outer = 1.0 - dryness * rate / film_rate;  // a_eff in the reference air
    double stock = liquid_[m] - limit + modes.inner_outer * (film_.outer()[m] - outer);
    std::array<double, wet_modes> c{};
    // The alcohol, if any is left, is gone by the end: what the film takes up when a_w comes to 1.
    const double rise = 1.0 - film_.activity()[m];
    stock -= rise * modes.inner_inner;
    for (std::size_t k = 0; k < wet_modes; ++k) {
      stock += modes.inner[k] * film_.amplitudes()[k][m];
      c[k] = film_.amplitudes()[k][m] - modes.inner[k] * rise + modes.outer[k] * (film_.outer()[m] - outer);
    }
    double seconds = std::max(0.0, stock / (flux * rate));
    for (int round = 0; round < 4; ++round) {
      double moving = 0.0;
      for (std::size_t k = 0; k < wet_modes; ++k) {
        moving += modes.inner[k] * c[k] * std::exp(-modes.wet_rate[k] * seconds * film_rate);
      }
      seconds = std::max(0.0, (stock - moving) / (flux * rate));
    }
    hours[m] = std::min(seconds / 3600.0, front_hours);
  }
  return hours;
}

}  // namespace dryclock::models
