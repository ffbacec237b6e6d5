#include "engine/vehicle_track.hpp"

#include <algorithm>
#include <cmath>

#include "engine/facts.hpp"
#include "engine/minutes.hpp"
#include "engine/still_air.hpp"
#include "models/pace.hpp"

namespace dryclock::engine {
namespace {

using models::Milestone;

const models::Seconds one_minute{60.0};

models::Surroundings surroundings(const AirPoint& point, double lamp_w_m2, std::optional<double> held_c) {
  models::Surroundings air;
  air.air = models::Celsius{point.air_c};
  air.humidity = models::Humidity{point.rh_pct / 100.0};
  air.panel_c = held_c.value_or(point.panel_c);
  air.air_speed = point.air_speed;
  air.absorbed_heat = lamp_w_m2;
  return air;
}

// The surface that a heating holds during the minute that begins at t.
std::optional<double> heated_c(const PiecePlan& piece, Time t) {
  for (const auto& heating : piece.heatings) {
    if (t >= heating.from && t < heating.to) {
      return heating.surface_c;
    }
  }
  return std::nullopt;
}

double pace_at(double panel_c, const models::Surroundings& air) {
  return models::pace(models::Celsius{panel_c}, air.air, air.humidity);
}

// A panel's temperature at `t`, warmed from the vehicle's arrival by the air it stood in.
double panel_at_lay(const VehiclePlan& plan, const models::PanelThermal& thermal, const Bays& bays,
                    const AirPoint& now) {
  if (!plan.panel_c) {
    return now.air_c;
  }
  models::PanelState panel{*plan.panel_c, *plan.panel_c};
  for (Time t = plan.from + minute; t <= now.at; t += minute) {
    const auto& bay = plan.bay_at(t - minute);
    const auto from = bays.at(bay, t - minute);
    const auto to = bays.at(bay, t);
    if (from.point != nullptr && to.point != nullptr) {
      const double lamp = plan.lamp_at(t - minute);
      panel = models::advance(panel, thermal, surroundings(*from.point, lamp, {}),
                              surroundings(*to.point, lamp, {}), one_minute);
    } else {
      t = next_air(plan, bays, t).value_or(now.at + minute) - minute;
    }
  }
  return panel.sheet_c;
}

}  // namespace

// One minute (t - 1 min, t] of a vehicle. Points are null where there is no air.
struct VehicleTrack::Step {
  Time t;
  std::optional<AirPoint> from, to;  // of the bay it stood in
  std::optional<AirPoint> here;      // at t, of the bay it stands in from t on
  double lamp_w_m2 = 0.0;
};

double probability(const models::Piece& piece, Milestone milestone) {
  const auto& reached = piece.reached();
  const auto& weights = piece.weights();
  double sum = 0.0;
  for (std::size_t m = 0; m < reached.size(); ++m) {
    if ((static_cast<unsigned>(reached[m]) >> static_cast<unsigned>(milestone) & 1U) != 0) {
      sum += weights[m];
    }
  }
  return sum;
}

Millis indoors(const VehiclePlan& plan, Time from, Time to) {
  Millis sum{0};
  for (std::size_t i = 0; i < plan.stays.size(); ++i) {
    if (plan.stays[i].bay == outside) {
      continue;
    }
    const Time begin = std::max(from, plan.stays[i].from);
    const Time end = i + 1 < plan.stays.size() ? std::min(to, plan.stays[i + 1].from) : to;
    sum += std::max(Millis{0}, end - begin);
  }
  return sum;
}

const PieceTrack* VehicleTrack::piece(PieceId id) const {
  const auto found = pieces_.find(id);
  return found == pieces_.end() ? nullptr : &found->second;
}

std::optional<double> VehicleTrack::panel_c() const {
  return panel_ ? std::optional<double>{panel_->sheet_c} : std::nullopt;
}

void VehicleTrack::integrate(const VehiclePlan& plan, const Bays& bays, const TrackRules& rules, Time until,
                             Beyond beyond) {
  const Time last = plan.ended ? std::min(*plan.ended, until) : until;
  for (Time t = integrated_ ? *integrated_ + minute : plan.from; t <= last; t += minute) {
    Step step;
    if (!look(plan, bays, t, until, beyond, step)) {
      return;
    }
    apply(plan, bays, rules, step);
    if (t < last && !step.from && !step.to && !step.here) {
      // The minutes up to the next change would do again what this one did, which is nothing.
      t = std::min(last, next_change(plan, bays, rules.least_indoor, t).value_or(last + minute) - minute);
    }
    integrated_ = t;
  }
}

void VehicleTrack::refold(const VehiclePlan& plan, const Bays& bays, const TrackRules& rules,
                          const std::set<PieceId>& pieces) {
  VehiclePlan part = plan;
  std::erase_if(part.pieces, [&](const PiecePlan& piece) { return !pieces.contains(piece.id); });
  VehicleTrack again;
  again.integrate(part, bays, rules, *integrated_, Beyond::wait);
  for (const PieceId id : pieces) {
    pieces_.erase(id);
    if (const auto found = again.pieces_.find(id); found != again.pieces_.end()) {
      // Minutes that wait for a sensor which had been given up count as without drying.
      found->second.bridged = found->second.bridged || again.integrated_ != integrated_;
      pieces_.insert(std::move(*found));
    }
  }
}

// False where the air will only be known later.
bool VehicleTrack::look(const VehiclePlan& plan, const Bays& bays, Time t, Time until, Beyond beyond,
                        Step& step) const {
  step.t = t;
  const auto find = [&](const std::string& bay, Time at, std::optional<AirPoint>& into) {
    const auto found = bays.at(bay, at);
    if (found.known == Bays::Known::yes) {
      into = *found.point;
    } else if (found.known == Bays::Known::later) {
      const BayAir* air = bays.find(bay);
      if (beyond == Beyond::hold) {
        into = air->stretches().back().back();
        into->at = at;
        into->bridged = true;
        return true;
      }
      // A vehicle that has left a bay does not wait for its sensors to come back.
      const bool left = plan.bay_at(until) != bay;
      return left && until - *air->newest_pair() > bays.bridge_after();
    }
    return true;
  };
  const auto& bay_now = plan.bay_at(t);
  if (t == plan.from) {
    return find(bay_now, t, step.here);
  }
  const auto& bay = plan.bay_at(t - minute);
  step.lamp_w_m2 = plan.lamp_at(t - minute);
  return find(bay, t, step.to) && find(bay_now, t, step.here) && find(bay, t - minute, step.from);
}

void VehicleTrack::apply(const VehiclePlan& plan, const Bays& bays, const TrackRules& rules,
                         const Step& step) {
  warm_vehicle(plan, rules, step);
  for (const auto& piece : plan.pieces) {
    if (piece.from > step.t || (piece.ended && step.t > *piece.ended)) {
      continue;
    }
    auto& track = pieces_[piece.id];
    if (track.piece) {
      advance(track, piece, step);
    } else {
      start(plan, piece, bays, rules, step);
    }
    act(piece, track, rules, step.t);
    announce(piece, track, rules, step.t);
  }
  release(plan, rules, step.t);
}

void VehicleTrack::warm_vehicle(const VehiclePlan& plan, const TrackRules& rules, const Step& step) {
  if (!panel_) {
    if (step.here) {
      const double start_c = plan.panel_c.value_or(step.here->air_c);
      panel_ = models::PanelState{start_c, start_c};
    }
  } else if (step.from && step.to) {
    panel_ = models::advance(*panel_, rules.vehicle_panel, surroundings(*step.from, step.lamp_w_m2, {}),
                             surroundings(*step.to, step.lamp_w_m2, {}), one_minute);
  }
}

// A piece begins with the first air after it was laid. Where nobody measured at first, those minutes count as
// without drying: slower than any air would have been.
void VehicleTrack::start(const VehiclePlan& plan, const PiecePlan& piece, const Bays& bays,
                         const TrackRules& rules, const Step& step) {
  auto& track = pieces_[piece.id];
  if (piece.from == step.t) {
    release_announced_.reset();
  }
  if (!step.here) {
    track.bridged = true;
    return;
  }
  const auto air = surroundings(*step.here, step.lamp_w_m2, heated_c(piece, step.t));
  models::PieceSpec spec = piece.spec;
  const double panel_c =
      std::isnan(air.panel_c) ? panel_at_lay(plan, spec.panel, bays, *step.here) : air.panel_c;
  spec.panel_at_lay = models::Celsius{panel_c};
  track.piece.emplace(spec, rules.thresholds, air);
  track.panel = {panel_c, panel_c};
  track.pace = pace_at(panel_c, air);
  track.bridged = track.bridged || step.here->bridged;
}

// Without air nothing dries: outside, or in a bay that nobody measures, the piece stands still and says so.
void VehicleTrack::advance(PieceTrack& track, const PiecePlan& piece, const Step& step) {
  if (!step.from || !step.to) {
    track.bridged = true;
    return;
  }
  const auto held = heated_c(piece, step.t - minute);
  const auto from = surroundings(*step.from, step.lamp_w_m2, held);
  const auto to = surroundings(*step.to, step.lamp_w_m2, held);
  track.piece->advance(from, to, one_minute);
  track.panel = models::advance(track.panel, piece.spec.panel, from, to, one_minute);
  const double pace = pace_at(track.panel.sheet_c, to);
  track.standard_hours += std::max(0.0, 0.5 * (track.pace + pace)) / 60.0;
  track.pace = pace;
  track.bridged = track.bridged || step.to->bridged;
}

void VehicleTrack::act(const PiecePlan& piece, PieceTrack& track, const TrackRules& rules, Time t) {
  using Kind = PieceAction::Kind;
  const auto note_early = [&](const PieceAction& action, Milestone asked, const char* name) {
    if (track.announced[static_cast<std::size_t>(asked)]) {
      return;
    }
    const double reached = track.piece ? probability(*track.piece, asked) : 0.0;
    if (reached < rules.announce_level) {
      track.early_steps.push_back({action.event, name, reached, still_wet(track.piece, rules.thresholds)});
    }
  };
  for (; track.next_action < piece.actions.size(); ++track.next_action) {
    const auto& action = piece.actions[track.next_action];
    if (action.at > t) {
      return;
    }
    switch (action.kind) {
      case Kind::wrap:
        note_early(action, Milestone::wrap_ready, "edge-wrapped");
        break;
      case Kind::trim:
        note_early(action, Milestone::trim_ready, "trimmed");
        break;
      case Kind::refit:
        note_early(action, Milestone::refit_ready, "refitted");
        break;
      case Kind::open:
      case Kind::inspect:
        break;
    }
    if (!track.piece) {
      continue;
    }
    if (action.kind == Kind::wrap) {
      track.piece->wrap_edges();
    } else if (action.kind == Kind::open || action.kind == Kind::trim) {
      track.piece->open_edges();
    } else if (action.kind == Kind::inspect) {
      for (std::size_t zone = 0; zone < piece.spec.zones.size(); ++zone) {
        if (piece.spec.zones[zone].kind == action.zone) {
          track.piece->inspect(zone, action.finding);
        }
      }
      // What was seen outweighs what was announced: the one thing that takes an announcement back.
      for (std::size_t k = 0; k < models::milestone_kinds; ++k) {
        if (probability(*track.piece, static_cast<Milestone>(k)) < rules.announce_level) {
          track.announced[k].reset();
          release_announced_.reset();
        }
      }
    }
  }
}

void VehicleTrack::announce(const PiecePlan& piece, PieceTrack& track, const TrackRules& rules, Time t) {
  if (!track.piece || !piece.is_on(t)) {
    return;
  }
  for (std::size_t k = 0; k < models::milestone_kinds; ++k) {
    auto& announced = track.announced[k];
    if (!announced && probability(*track.piece, static_cast<Milestone>(k)) >= rules.announce_level) {
      announced = t;
    }
  }
}

double VehicleTrack::dry_probability(const VehiclePlan& plan) const {
  double product = 0.0;
  bool any = false;
  for (const auto& piece : plan.pieces) {
    if (!integrated_ || !piece.is_on(*integrated_)) {
      continue;
    }
    const auto* track = this->piece(piece.id);
    if (track == nullptr || !track->piece || track->pace <= 0.0) {  // not begun, or condensing
      return 0.0;
    }
    product = (any ? product : 1.0) * probability(*track->piece, Milestone::dry);
    any = true;
  }
  return product;
}

double VehicleTrack::release_probability(const VehiclePlan& plan, const TrackRules& rules) const {
  if (!integrated_) {
    return 0.0;
  }
  const auto last = plan.last_on(*integrated_);
  return last && indoors(plan, *last, *integrated_) >= rules.least_indoor ? dry_probability(plan) : 0.0;
}

void VehicleTrack::release(const VehiclePlan& plan, const TrackRules& rules, Time t) {
  integrated_ = t;
  const bool ready = release_probability(plan, rules) >= rules.announce_level;
  if (plan.awaits_more(t)) {
    release_announced_.reset();
  } else if (!release_announced_ && ready) {
    release_announced_ = t;
  }
  if (!plan.ended || t != *plan.ended || release_announced_ || ready) {
    return;
  }
  for (const auto& piece : plan.pieces) {
    if (!piece.is_on(t)) {
      continue;
    }
    auto& track = pieces_[piece.id];
    const double dry = track.piece ? probability(*track.piece, Milestone::dry) : 0.0;
    auto wet =
        dry < rules.announce_level ? still_wet(track.piece, rules.thresholds) : Fact{"limits.indoors-short"};
    track.early_steps.push_back({plan.release_event, "released", dry, std::move(wet)});
  }
}

}  // namespace dryclock::engine
