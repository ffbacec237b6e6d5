#include "cli/dry_run.hpp"

#include <algorithm>
#include <cmath>
#include <memory>

#include "models/bond.hpp"
#include "models/film_modes.hpp"
#include "models/film_stack.hpp"
#include "models/humid_air.hpp"
#include "models/pace.hpp"
#include "models/panel_heat.hpp"
#include "models/thermal_step.hpp"
#include "models/water_layer.hpp"
#include "models/zone.hpp"

namespace dryclock::cli {
namespace {

using models::Celsius;
using models::Humidity;
using models::Seconds;
using models::Surroundings;

constexpr double step_s = 60.0;

double mix(double a, double b, double x) {
  return a + (b - a) * x;
}
Surroundings mix(const Surroundings& a, const Surroundings& b, double x) {
  Surroundings c = a;
  c.air = Celsius{mix(a.air.value(), b.air.value(), x)};
  c.humidity = Humidity{mix(a.humidity.value(), b.humidity.value(), x)};
  c.panel_c = mix(a.panel_c, b.panel_c, x);
  return c;
}

// The case's air at any time, panel as measured where the case measures it.
class Air {
 public:
  explicit Air(const DryCase& dry) : rows_(dry.air), measured_(dry.panel == PanelSource::measured) {}

  [[nodiscard]] Surroundings at(double hours) const {
    const auto next = std::upper_bound(rows_.begin(), rows_.end(), hours,
                                       [](double h, const AirAt& row) { return h < row.hours; });
    if (next == rows_.begin()) {
      return of(rows_.front());
    }
    if (next == rows_.end()) {
      return of(rows_.back());
    }
    const auto before = std::prev(next);
    return mix(of(*before), of(*next), (hours - before->hours) / (next->hours - before->hours));
  }
  // The next moment after `hours` at which the air changes direction.
  [[nodiscard]] double next_bend(double hours) const {
    for (const auto& row : rows_) {
      if (row.hours > hours) {
        return row.hours;
      }
    }
    return std::numeric_limits<double>::infinity();
  }

 private:
  [[nodiscard]] Surroundings of(const AirAt& row) const {
    Surroundings air;
    air.air = Celsius{row.air_c};
    air.humidity = Humidity{row.rh_pct / 100.0};
    if (measured_) {
      air.panel_c = row.panel_c;
    }
    return air;
  }
  std::vector<AirAt> rows_;
  bool measured_;
};

models::WaterLayer layer_of(const DryCase& dry) {
  return {models::GramsPerSquareMetre{dry.break_up}, models::GramsPerSquareMetre{dry.dry_below}};
}

// The film in equilibrium with the activity that the case asks for, as air over the panel.
Surroundings start_of(const DryCase& dry, const Surroundings& first) {
  if (!dry.start_activity) {
    return first;
  }
  Surroundings air = first;
  air.air = Celsius{first.panel_c};
  air.humidity = Humidity{*dry.start_activity};
  return air;
}

// The models' zone with all lanes alike.
class ModesZone {
 public:
  ModesZone(const DryCase& dry, const Surroundings& first)
      : air_layer_(dry.air_layer_coefficient),
        modes_(std::make_shared<models::FilmModes>(
            models::film_modes(dry.stack, air_layer_, Celsius{first.panel_c}))),
        zone_(*modes_, layer_of(dry), all(dry.water), dry.alcohol, sense(start_of(dry, first)).activity,
              0.0) {}

  void advance(const Surroundings& from, const Surroundings& to, double seconds) {
    models::ThermalStep step;
    models::prepare(step, *modes_, all(1.0), sense(from), sense(mix(from, to, 0.5)), sense(to), seconds);
    zone_.advance(*modes_, step, 0.0, 0.0, 0.0);
  }
  [[nodiscard]] double water() const { return zone_.water()[0]; }
  [[nodiscard]] double excess() const { return zone_.excess(*modes_)[0]; }
  [[nodiscard]] bool dry() const { return zone_.dry()[0]; }
  [[nodiscard]] std::uint8_t validity() const { return modes_->validity; }

 private:
  [[nodiscard]] static models::Lanes all(double value) {
    models::Lanes lanes{};
    lanes.fill(value);
    return lanes;
  }
  [[nodiscard]] models::Instant sense(const Surroundings& air) const {
    return models::instant(*modes_, Celsius{air.panel_c}, air.air, air.humidity, air_layer_);
  }

  models::MetresPerSecond air_layer_;
  std::shared_ptr<const models::FilmModes> modes_;
  models::Zone zone_;
};

// The fine grid.
class GridZone {
 public:
  GridZone(const DryCase& dry, const Surroundings& first)
      : solver_(dry.stack, layer_of(dry), models::GramsPerSquareMetre{dry.water},
                models::MetresPerSecond{dry.air_layer_coefficient}, start_of(dry, first)) {
    (void)models::clamped(dry.stack, validity_);
  }

  void advance(const Surroundings& from, const Surroundings& to, double seconds) {
    solver_.advance(from, to, Seconds{seconds});
  }
  [[nodiscard]] double water() const { return solver_.water(); }
  [[nodiscard]] double excess() const { return solver_.excess(); }
  [[nodiscard]] bool dry() const { return solver_.dry(); }
  [[nodiscard]] std::uint8_t validity() const { return validity_; }

 private:
  models::FilmStackSolver solver_;
  std::uint8_t validity_ = models::valid;
};

// Bond of the area that has dried so far: each part grows from the moment its liquid went.
class Contact {
 public:
  explicit Contact(double break_up) : break_up_(std::max(break_up, models::whole_to_the_end)) {}

  void advance(double seconds, const Surroundings& from, const Surroundings& to, double water, bool dry) {
    clock_ +=
        seconds * 0.5 * (models::bond_rate(Celsius{from.panel_c}) + models::bond_rate(Celsius{to.panel_c}));
    const double dried = dry ? 1.0 : 1.0 - std::min(1.0, water / break_up_);
    if (dried > dried_) {
      parts_.push_back({clock_, dried - dried_});
      dried_ = dried;
    }
  }
  [[nodiscard]] double bond() const {
    double sum = 0.0;
    for (const auto& part : parts_) {
      sum += part.share * models::bond_fraction(clock_ - part.since);
    }
    return sum;
  }

 private:
  struct Part {
    double since, share;
  };
  double break_up_;
  double clock_ = 0.0;  // s at 23 C
  double dried_ = 0.0;
  std::vector<Part> parts_;
};

// How far into a step `reached` first holds: 0..1. It does not hold at its start and does at its end.
template <class Zone, class Reached>
double moment(const Zone& before, const Surroundings& from, const Surroundings& to, double seconds,
              Reached reached) {
  double low = 0.0;
  double high = 1.0;
  while ((high - low) * seconds > 1e-3) {
    const double half = 0.5 * (low + high);
    Zone zone = before;
    zone.advance(from, mix(from, to, half), half * seconds);
    (reached(zone) ? high : low) = half;
  }
  return high;
}

template <class Zone>
class Run {
 public:
  Run(const DryCase& dry, double every_minutes)
      : case_(dry), air_(dry), every_h_(every_minutes / 60.0), contact_(dry.break_up) {
    now_ = air_.at(0.0);
    panel_.sheet_c = panel_.body_c = dry.panel_start_c.value_or(now_.air.value());
    if (dry.panel != PanelSource::measured) {
      now_.panel_c = dry.panel == PanelSource::modelled ? panel_.sheet_c : now_.air.value();
    }
    zone_.emplace(dry, now_);
    result_.validity |= zone_->validity();
    watch(now_);
    note();
  }

  DryResult finish() {
    while (hours_ < case_.max_hours && !complete()) {
      const double until =
          std::min({hours_ + step_s / 3600.0, air_.next_bend(hours_), next_note_, case_.max_hours});
      step_to(until);
      if (hours_ >= next_note_) {
        note();
      }
    }
    if (result_.series.back().hours < hours_) {
      note();
    }
    result_.air_held = case_.air.size() > 1 && hours_ > case_.air.back().hours;
    return std::move(result_);
  }

 private:
  [[nodiscard]] bool complete() const {
    return result_.dry_h && result_.below_h && (result_.excess_min.back() || !result_.falls()) &&
           result_.bond_h.back();
  }

  // The air at `hours`, with the panel's temperature, which lags where it is modelled.
  Surroundings surroundings_at(double hours) {
    auto air = air_.at(hours);
    if (case_.panel == PanelSource::air) {
      air.panel_c = air.air.value();
    } else if (case_.panel == PanelSource::modelled) {
      auto from = now_;
      from.panel_c = air.panel_c;  // not measured
      panel_ = models::advance(panel_, case_.thermal, from, air, Seconds{(hours - hours_) * 3600.0});
      air.panel_c = panel_.sheet_c;
    }
    return air;
  }

  void step_to(double until) {
    const auto to = surroundings_at(until);
    const double seconds = (until - hours_) * 3600.0;
    const Zone before = *zone_;
    zone_->advance(now_, to, seconds);
    if (!result_.below_h && zone_->water() < case_.dry_below) {
      const double share =
          moment(before, now_, to, seconds, [&](const Zone& z) { return z.water() < case_.dry_below; });
      result_.below_h = hours_ + share * seconds / 3600.0;
    }
    if (!result_.dry_h && zone_->dry()) {
      // The step is cut at the moment, so that what is left then is exact.
      const double share = moment(before, now_, to, seconds, [](const Zone& z) { return z.dry(); });
      const auto then = mix(now_, to, share);
      *zone_ = before;
      zone_->advance(now_, then, share * seconds);
      step(then, share * seconds);
      result_.dry_h = hours_;
      result_.excess_at_dry = zone_->excess();
      if (share < 1.0) {
        zone_->advance(then, to, (1.0 - share) * seconds);
        step(to, (1.0 - share) * seconds);
      }
      hours_ = until;
      return;
    }
    if (result_.falls()) {
      find_shares(before, to, seconds);
    }
    step(to, seconds);
    hours_ = until;
  }

  void find_shares(const Zone& before, const Surroundings& to, double seconds) {
    for (std::size_t i = 0; i < excess_shares.size(); ++i) {
      const double level = excess_shares[i] * result_.excess_at_dry;
      if (!result_.excess_min[i] && zone_->excess() <= level) {
        const double share =
            moment(before, now_, to, seconds, [&](const Zone& z) { return z.excess() <= level; });
        result_.excess_min[i] = (hours_ - *result_.dry_h) * 60.0 + share * seconds / 60.0;
      }
    }
  }

  // Moves on to `to`, which the zone has reached already.
  void step(const Surroundings& to, double seconds) {
    const double bond_before = contact_.bond();
    contact_.advance(seconds, now_, to, zone_->water(), zone_->dry());
    const double bond = contact_.bond();
    for (std::size_t i = 0; i < bond_levels.size(); ++i) {
      if (!result_.bond_h[i] && bond >= bond_levels[i]) {
        const double share = bond > bond_before ? (bond_levels[i] - bond_before) / (bond - bond_before) : 1.0;
        result_.bond_h[i] = hours_ + share * seconds / 3600.0;
      }
    }
    if (!result_.dry_h) {
      result_.standard_hours += 0.5 * (pace_of(now_) + pace_of(to)) * seconds / 3600.0;
    }
    hours_ += seconds / 3600.0;
    now_ = to;
    watch(to);
  }

  [[nodiscard]] static double pace_of(const Surroundings& air) {
    return models::pace(Celsius{air.panel_c}, air.air, air.humidity);
  }

  void watch(const Surroundings& air) {
    constexpr double hottest_routine_c = 60.0;
    result_.validity |= models::out_of_range(air);
    if (air.panel_c > hottest_routine_c) {
      result_.validity |= models::panel_too_hot;
    }
    if (models::activity_at_panel(Celsius{air.panel_c}, air.air, air.humidity) >= 1.0) {
      result_.validity |= models::condensing;
    }
  }

  void note() {
    result_.series.push_back({hours_, zone_->water(), zone_->excess(), contact_.bond(), now_.air.value(),
                              now_.humidity.value() * 100.0, now_.panel_c, pace_of(now_)});
    next_note_ = static_cast<double>(++notes_) * every_h_;
  }

  const DryCase& case_;
  Air air_;
  double every_h_;
  Contact contact_;
  Surroundings now_;
  models::PanelState panel_;
  std::optional<Zone> zone_;
  double hours_ = 0.0;
  double next_note_ = 0.0;
  int notes_ = 0;
  DryResult result_;
};

}  // namespace

DryResult run(const DryCase& dry, double every_minutes) {
  if (dry.solver == Solver::grid) {
    return Run<GridZone>(dry, every_minutes).finish();
  }
  return Run<ModesZone>(dry, every_minutes).finish();
}

}  // namespace dryclock::cli
