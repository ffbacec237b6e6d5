#include "models/zone.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "models/bond.hpp"
#include "models/humid_air.hpp"
#include "models/pace.hpp"

namespace dryclock::models {
namespace {

constexpr double never = std::numeric_limits<double>::infinity();
constexpr double gone = -40.0;                  // ln of a wet share that no longer matters
constexpr double margin_floor = 1e-20;          // of the width: keeps logarithms finite
constexpr double wettest = 1e4, driest = 1e-3;  // g/m2 of solution that a member may start with

using WetField = std::array<Lanes, wet_modes>;
using DryField = std::array<Lanes, dry_modes>;

// ln of the wet share at which part i makes contact: the middle of equal parts, the first to dry first.
std::array<double, contact_parts> contact_levels() {
  std::array<double, contact_parts> levels{};
  for (std::size_t i = 0; i < contact_parts; ++i) {
    levels[i] = std::log((static_cast<double>(contact_parts - i) - 0.5) / static_cast<double>(contact_parts));
  }
  return levels;
}
const std::array<double, contact_parts> levels = contact_levels();

// Wet columns over one step: the liquid falls by the flux into the film,
//   Integral J = Integral (a_w - a_out)/r - inner (c_before - c_after) + <1 - xi, xi> change of a_out,
// the modes left out being in their quasi-steady state (they sit in the last term).
DRYCLOCK_LANE_LOOPS void step_wet(const FilmModes& modes, const ThermalStep& step, const Lanes& activity,
                                  const WetField& before, WetField& after, Lanes& liquid) {
  const double tail = modes.inner_outer * (step.activity_after - step.activity_before);
  const double conductance = 1.0 / modes.resistance;
  Lanes released{};
  for (std::size_t k = 0; k < wet_modes; ++k) {
    for (std::size_t m = 0; m < members; ++m) {
      after[k][m] = before[k][m] * step.wet_decay[k][m] - step.wet_drive[k][m];
      released[m] += modes.inner[k] * (before[k][m] - after[k][m]);
    }
  }
  for (std::size_t m = 0; m < members; ++m) {
    liquid[m] -= (activity[m] * step.span[m] - step.imposed[m]) * conductance - released[m] + tail;
  }
}

// How the wet share falls within the step: exponentially, over the last part of it.
struct Shrinking {
  Lanes share_before{};  // wet share when it begins to fall
  Lanes share_after{};
  Lanes fall{};  // ln(before/after), >= 0
  Lanes part{};  // of the step, from the moment the layer breaks up to the end
  bool breaks_inside = false;
};

// A layer that breaks up inside the step counts from there; what a front took before is slight and joins it.
DRYCLOCK_LANE_LOOPS Shrinking shrink(const WaterLayer& layer, const Lanes& liquid_before,
                                     const Lanes& liquid_after, double margin_before, double margin_after,
                                     Lanes& log_after) {
  Shrinking s;
  const double w_c = layer.break_up;
  for (std::size_t m = 0; m < members; ++m) {
    const double over_before = (liquid_before[m] - w_c) / w_c;
    const double over_after = (liquid_after[m] - w_c) / w_c;
    const double log_before = (over_before < 0.0 ? over_before : 0.0) + margin_before;
    log_after[m] = (over_after < 0.0 ? over_after : 0.0) + margin_after;
    const double fall = log_before - log_after[m];
    s.fall[m] = fall > 0.0 ? fall : 0.0;
    s.share_before[m] = lane_exp(log_before);
    s.share_after[m] = lane_exp(log_after[m]);
    const bool breaks = (over_before > 0.0) & (over_after < 0.0);
    const double passed = breaks ? over_before - over_after : 1.0;
    s.part[m] = breaks ? -over_after / passed : 1.0;
  }
  for (std::size_t m = 0; m < members; ++m) {
    s.breaks_inside = s.breaks_inside || s.part[m] < 1.0;
  }
  return s;
}

// Feeds the dry field with the columns that dried during the step. With L = fall, y = rate * span * part:
//   Integral over x in 0..1 of L e^(-L x) e^(-y (1 - x)) (G0 + (G1 - G0) x),
// where G = <psi_j, a_wet - a_out>, linear over the step.
DRYCLOCK_LANE_LOOPS void step_dry(const FilmModes& modes, const ThermalStep& step, const Lanes& activity,
                                  const WetField& before, const WetField& after, const Shrinking& shrinking,
                                  DryField& dry) {
  Lanes left{};
  for (std::size_t m = 0; m < members; ++m) {
    left[m] = lane_exp(-shrinking.fall[m]);
  }
  for (std::size_t j = 0; j < dry_modes; ++j) {
    Lanes first{};
    Lanes last{};
    for (std::size_t m = 0; m < members; ++m) {
      first[m] = (activity[m] - step.activity_before) * modes.dry_inner[j];
      last[m] = (activity[m] - step.activity_after) * modes.dry_inner[j];
    }
    for (std::size_t k = 0; k < wet_modes; ++k) {
      for (std::size_t m = 0; m < members; ++m) {
        first[m] += modes.cross[j][k] * before[k][m];
        last[m] += modes.cross[j][k] * after[k][m];
      }
    }
    Lanes decay = step.dry_decay[j];
    if (shrinking.breaks_inside) {
      for (std::size_t m = 0; m < members; ++m) {
        decay[m] = lane_exp(-modes.dry_rate[j] * step.span[m] * shrinking.part[m]);
      }
    }
    for (std::size_t m = 0; m < members; ++m) {
      const double y = modes.dry_rate[j] * step.span[m] * shrinking.part[m];
      const double z = y - shrinking.fall[m];
      const bool near = std::abs(z) < 0.03;
      const double safe = near ? 1.0 : z;
      const double even_far = (left[m] - decay[m]) / safe;
      const double tilted_far = (left[m] - even_far) / safe;
      const double middle = std::sqrt(left[m] * decay[m]);
      const double even_near = middle * (1.0 + z * z / 24.0);
      const double tilted_near = 0.5 * even_near + middle * z * (1.0 / 12.0 + z * z / 480.0);
      const double even = near ? even_near : even_far;
      const double tilted = near ? tilted_near : tilted_far;
      const double fed =
          shrinking.share_before[m] * shrinking.fall[m] * (first[m] * even + (last[m] - first[m]) * tilted);
      const double dry_share = 1.0 - 0.5 * (shrinking.share_before[m] + shrinking.share_after[m]);
      dry[j][m] = dry[j][m] * step.dry_decay[j][m] + fed - dry_share * step.dry_drive[j][m];
    }
  }
}

}  // namespace

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
    const double water = (1.0 - alcohol_fraction_) * std::clamp(solution[m], driest, wettest);
    first_water_[m] = water;
    activity_[m] = std::max(activity, water_activity(alcohol_fraction_, 1.0));
    const double step = activity_[m] - activity;
    liquid_[m] = layer_.coordinate(water) - step * modes.inner_inner_rest;
    for (std::size_t k = 0; k < wet_modes; ++k) {
      wet_[k][m] = -step * modes.inner[k];
    }

    // A layer that starts in patches: the film between them lies on the paint, in equilibrium with the air.
    const double wetted = layer_.log_wetted(liquid_[m]);
    all_whole_ = all_whole_ && wetted == 0.0;
    for (std::size_t i = 0; i < contact_parts; ++i) {
      if (wetted < levels[i]) contact_[i][m] = 0.0;
    }
  }
}

double Zone::margin_left() const {
  if (edge_width_ <= 0.0) return 1.0;
  return std::max(margin_floor, 1.0 - std::sqrt(front_squared_) / edge_width_);
}

// The liquid's activity steps up: the wet columns' steady profile moves, the film takes up what it lacks. It
// never steps down, so that no liquid is drawn in through the film.
void Zone::raise_liquid_activity(const FilmModes& modes, double at_least) {
  for (std::size_t m = 0; m < members; ++m) {
    const double left = layer_.water(liquid_[m]) / first_water_[m];
    const double raised = std::max({activity_[m], at_least, water_activity(alcohol_fraction_, left)});
    const double step = raised - activity_[m];
    activity_[m] = raised;
    liquid_[m] -= step * modes.inner_inner_rest;
    for (std::size_t k = 0; k < wet_modes; ++k) {
      wet_[k][m] -= step * modes.inner[k];
    }
  }
}

// The air jumped between two steps: the steady profile jumps with it, what the film holds does not.
void Zone::move_outside(const FilmModes& modes, double activity) {
  const double jump = activity - outside_;
  outside_ = activity;
  if (jump == 0.0) return;
  const double margin = margin_left();
  for (std::size_t m = 0; m < members; ++m) {
    const double dry_share = 1.0 - margin * std::exp(layer_.log_wetted(liquid_[m]));
    for (std::size_t j = 0; j < dry_modes; ++j) {
      dry_[j][m] -= jump * modes.dry_content[j] * dry_share;
    }
    for (std::size_t k = 0; k < wet_modes; ++k) {
      wet_[k][m] -= jump * modes.outer[k];
    }
    liquid_[m] -= jump * modes.inner_outer_rest;
  }
}

void Zone::advance(const FilmModes& modes, const ThermalStep& step, double front_squared, double clock_before,
                   double clock_after) {
  move_outside(modes, step.activity_before);
  outside_ = step.activity_after;
  const double margin_before = std::log(margin_left());
  front_squared_ += front_squared;
  const double margin_after = std::log(margin_left());

  if (all_gone_) {
    for (std::size_t j = 0; j < dry_modes; ++j) {
      for (std::size_t m = 0; m < members; ++m) {
        dry_[j][m] = dry_[j][m] * step.dry_decay[j][m] - step.dry_drive[j][m];
      }
    }
    return;
  }

  if (alcohol_fraction_ > 0.0) raise_liquid_activity(modes, step.highest_activity);
  const WetField before = wet_;
  const Lanes liquid_before = liquid_;
  step_wet(modes, step, activity_, before, wet_, liquid_);

  Lanes log_after{};
  const Shrinking shrinking = shrink(layer_, liquid_before, liquid_, margin_before, margin_after, log_after);
  if (all_whole_ && *std::min_element(log_after.begin(), log_after.end()) == 0.0) return;
  all_whole_ = false;
  step_dry(modes, step, activity_, before, wet_, shrinking, dry_);

  for (std::size_t i = 0; i < contact_parts; ++i) {
    for (std::size_t m = 0; m < members; ++m) {
      if (log_after[m] >= levels[i] || contact_[i][m] != never) continue;
      const double since = shrinking.part[m] * (levels[i] - log_after[m]) / shrinking.fall[m];
      contact_[i][m] = clock_after - (clock_after - clock_before) * std::min(1.0, since);
    }
  }
  all_gone_ = *std::max_element(log_after.begin(), log_after.end()) < gone;
}

Lanes Zone::water() const {
  Lanes water{};
  const double margin = margin_left();
  for (std::size_t m = 0; m < members; ++m) {
    water[m] = margin * layer_.water(liquid_[m]);
  }
  return water;
}

std::array<bool, members> Zone::dry() const {
  std::array<bool, members> dry{};
  const double margin = margin_left();
  const double limit = layer_.coordinate(layer_.dry_limit / margin);
  for (std::size_t m = 0; m < members; ++m) {
    dry[m] = liquid_[m] <= limit;
  }
  return dry;
}

Lanes Zone::excess(const FilmModes& modes) const {
  Lanes excess{};
  for (std::size_t j = 0; j < dry_modes; ++j) {
    for (std::size_t m = 0; m < members; ++m) {
      excess[m] += modes.dry_content[j] * dry_[j][m];
    }
  }
  if (all_gone_) return excess;
  const double margin = margin_left();
  for (std::size_t m = 0; m < members; ++m) {
    double wet = (activity_[m] - outside_) * modes.inner_content;
    for (std::size_t k = 0; k < wet_modes; ++k) {
      wet += (modes.inner[k] + modes.outer[k]) * wet_[k][m];
    }
    excess[m] += margin * std::exp(layer_.log_wetted(liquid_[m])) * wet;
  }
  return excess;
}

double Zone::bond(double clock, std::size_t member) const {
  double bond = 0.0;
  for (const Lanes& part : contact_) {
    if (part[member] != never) bond += bond_fraction(clock - part[member]);
  }
  return bond / static_cast<double>(contact_parts);
}

Lanes Zone::standard_hours(const FilmModes& modes, const Lanes& factor, double openness) const {
  Lanes hours{};
  const double limit = layer_.coordinate(layer_.dry_limit / margin_left());
  double front_hours = never;
  if (edge_width_ > 0.0 && openness > 0.0) {
    const double rate =
        openness * front_rate(reference_temperature, reference_temperature, Humidity{reference_activity});
    front_hours = std::max(0.0, edge_width_ * edge_width_ - front_squared_) / rate / 3600.0;
  }
  // liquid + inner.c + <1-xi, xi> a_out falls steadily by (a_w - a_out)/r, whatever the modes do; stepping to
  // the reference air leaves it as it is.
  const double flux = (1.0 - reference_activity) / modes.resistance;
  for (std::size_t m = 0; m < members; ++m) {
    if (liquid_[m] <= limit) continue;
    double stock = liquid_[m] - limit + modes.inner_outer * (outside_ - reference_activity);
    std::array<double, wet_modes> c{};
    // The alcohol, if any is left, is gone by the end: what the film takes up when a_w comes to 1.
    const double rise = 1.0 - activity_[m];
    stock -= rise * modes.inner_inner;
    for (std::size_t k = 0; k < wet_modes; ++k) {
      stock += modes.inner[k] * wet_[k][m];
      c[k] = wet_[k][m] - modes.inner[k] * rise + modes.outer[k] * (outside_ - reference_activity);
    }
    double span = std::max(0.0, stock / flux);
    for (int round = 0; round < 4; ++round) {
      double moving = 0.0;
      for (std::size_t k = 0; k < wet_modes; ++k) {
        moving += modes.inner[k] * c[k] * std::exp(-modes.wet_rate[k] * span);
      }
      span = std::max(0.0, (stock - moving) / flux);
    }
    const double rate = 1.0 / (factor[m] * (1.0 - modes.air_share) + modes.air_share);
    hours[m] = std::min(span / rate / 3600.0, front_hours);
  }
  return hours;
}

}  // namespace dryclock::models
