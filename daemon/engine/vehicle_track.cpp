#include "engine/vehicle_track.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "engine/minutes.hpp"
#include "engine/still_air.hpp"
#include "models/pace.hpp"

namespace dryclock::engine {
namespace {

const models::Seconds one_minute{60.0};

models::Surroundings surroundings(const AirPoint& point, double lamp_w_m2) {
  models::Surroundings air;
  air.air = models::Celsius{point.air_c};
  air.humidity = models::Humidity{point.rh_pct / 100.0};
  air.panel_c = point.panel_c;
  air.air_speed = point.air_speed;
  air.absorbed_heat = lamp_w_m2;
  return air;
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
      panel = models::advance(panel, thermal, surroundings(*from.point, lamp), surroundings(*to.point, lamp),
                              one_minute);
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

std::size_t point_at(const models::LaidPiece& piece, double seconds) {
  const auto& trace = piece.trace(0);
  std::size_t low = 0;
  std::size_t high = trace.size();
  while (low + 1 < high) {
    const std::size_t middle = (low + high) / 2;
    (trace[middle].seconds <= seconds ? low : high) = middle;
  }
  return low;
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

models::LaidPiece unheated(const PieceTrack& track) {
  models::LaidPiece piece = *track.piece;
  for (std::size_t kind = 0; kind < models::zone_kinds; ++kind) {
    const auto zones = static_cast<models::ZoneKind>(kind);
    if (track.held_c[kind]) {
      piece.hold(zones, std::numeric_limits<double>::quiet_NaN());
    }
    if (track.lit_w_m2[kind] != 0.0) {
      piece.light(zones, 0.0);
    }
  }
  return piece;
}

const PieceTrack* VehicleTrack::piece(PieceId id) const {
  const auto found = pieces_.find(id);
  return found == pieces_.end() ? nullptr : &found->second;
}

std::optional<double> VehicleTrack::panel_c() const {
  return panel_ ? std::optional<double>{panel_->sheet_c} : std::nullopt;
}

void VehicleTrack::integrate(const VehiclePlan& plan, const Bays& bays, Time until, Beyond beyond) {
  const Time last = plan.ended ? std::min(*plan.ended, until) : until;
  for (Time t = integrated_ ? *integrated_ + minute : plan.from; t <= last; t += minute) {
    Step step;
    if (!look(plan, bays, t, until, beyond, step)) {
      return;
    }
    apply(plan, bays, step);
    if (t < last && !step.from && !step.to && !step.here) {
      // The minutes up to the next change would do again what this one did, which is nothing.
      t = std::min(last, next_change(plan, bays, t).value_or(last + minute) - minute);
    }
    integrated_ = t;
  }
}

void VehicleTrack::refold(const VehiclePlan& plan, const Bays& bays, const std::set<PieceId>& pieces) {
  VehiclePlan part = plan;
  std::erase_if(part.pieces, [&](const PiecePlan& piece) { return !pieces.contains(piece.id); });
  VehicleTrack again{slowest_};
  again.integrate(part, bays, *integrated_, Beyond::wait);
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

void VehicleTrack::apply(const VehiclePlan& plan, const Bays& bays, const Step& step) {
  warm_vehicle(plan, step);
  for (const auto& piece : plan.pieces) {
    if (piece.from > step.t || (piece.ended && step.t > *piece.ended)) {
      continue;
    }
    auto& track = pieces_[piece.id];
    if (track.piece) {
      advance(track, piece, step);
    } else {
      start(plan, piece, bays, track, step);
    }
    act(piece, track, step.t);
  }
}

void VehicleTrack::warm_vehicle(const VehiclePlan& plan, const Step& step) {
  if (!panel_) {
    if (step.here) {
      const double start_c = plan.panel_c.value_or(step.here->air_c);
      panel_ = models::PanelState{start_c, start_c};
    }
  } else if (step.from && step.to) {
    panel_ = models::advance(*panel_, slowest_, surroundings(*step.from, step.lamp_w_m2),
                             surroundings(*step.to, step.lamp_w_m2), one_minute);
  }
}

// A piece begins with the first air after it was laid. Where nobody measured at first, those minutes count as
// without drying: slower than any air would have been.
void VehicleTrack::start(const VehiclePlan& plan, const PiecePlan& piece, const Bays& bays, PieceTrack& track,
                         const Step& step) {
  if (!step.here) {
    track.bridged = true;
    return;
  }
  const auto air = surroundings(*step.here, step.lamp_w_m2);
  models::LaidSpec spec = piece.spec;
  const double panel_c =
      std::isnan(air.panel_c) ? panel_at_lay(plan, spec.panel, bays, *step.here) : air.panel_c;
  spec.panel_at_lay = models::Celsius{panel_c};
  track.piece.emplace(spec, air);
  track.began = step.t;
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
  heat(track, piece, step);
  const double lamp_w_m2 = step.lamp_w_m2 + light(track, piece, step);
  const auto from = surroundings(*step.from, lamp_w_m2);
  const auto to = surroundings(*step.to, lamp_w_m2);
  track.piece->advance(from, to, one_minute);
  track.panel = models::advance(track.panel, piece.spec.panel, from, to, one_minute);
  const double pace = pace_at(track.panel.sheet_c, to);
  track.standard_hours += std::max(0.0, 0.5 * (track.pace + pace)) / 60.0;
  track.pace = pace;
  track.bridged = track.bridged || step.to->bridged;
}

// What is held during the minute that ends at step.t.
void VehicleTrack::heat(PieceTrack& track, const PiecePlan& piece, const Step& step) {
  decltype(track.held_c) held{};
  for (const auto& heating : piece.heatings) {
    const Millis until = step.t - heating.from;  // whole minutes count alone
    if (until > Millis{0} &&
        until <= held_for(heating, piece.spec.panel, track.panel.sheet_c, step.from->air_c)) {
      for (const auto zone : heating.zones) {
        held[static_cast<std::size_t>(zone)] = heating.surface_c;
      }
    }
  }
  for (std::size_t kind = 0; kind < held.size(); ++kind) {
    if (held[kind] != track.held_c[kind]) {
      track.piece->hold(static_cast<models::ZoneKind>(kind),
                        held[kind].value_or(std::numeric_limits<double>::quiet_NaN()));
      track.held_c[kind] = held[kind];
    }
  }
}

// What a lamp gives to all of the piece during that minute [W/m2]; to one zone alone it gives it here.
double VehicleTrack::light(PieceTrack& track, const PiecePlan& piece, const Step& step) {
  const auto lamp = piece.lamp_at(step.t - minute);
  decltype(track.lit_w_m2) lit{};
  if (lamp.zone) {
    lit[static_cast<std::size_t>(*lamp.zone)] = lamp.heat_w_m2;
  }
  for (std::size_t kind = 0; kind < lit.size(); ++kind) {
    if (lit[kind] != track.lit_w_m2[kind]) {
      track.piece->light(static_cast<models::ZoneKind>(kind), lit[kind]);
    }
  }
  track.lit_w_m2 = lit;
  return lamp.zone ? 0.0 : lamp.heat_w_m2;
}

void look_at(const PiecePlan& piece, const PieceAction& action, double seconds, std::vector<ZoneLook>& into) {
  const auto sign = models::sign_of(action.finding);
  for (std::size_t zone = 0; sign && zone < piece.spec.zones.size(); ++zone) {
    if (piece.spec.zones[zone].kind == action.zone) {
      into.push_back({{zone, seconds, *sign}, action.event});
    }
  }
}

void VehicleTrack::act(const PiecePlan& piece, PieceTrack& track, Time t) {
  using Kind = PieceAction::Kind;
  for (; track.next_action < piece.actions.size(); ++track.next_action) {
    const auto& action = piece.actions[track.next_action];
    if (action.at > t) {
      return;
    }
    if (!track.piece) {
      continue;
    }
    if (action.kind == Kind::wrap || action.kind == Kind::trim) {
      track.turned[action.event] = track.piece->seconds();
    }
    if (action.kind == Kind::wrap) {
      track.piece->wrap_edges();
    } else if (action.kind == Kind::open || action.kind == Kind::trim) {
      track.piece->open_edges();
    } else if (action.kind == Kind::inspect) {
      track.piece->mark();
      look_at(piece, action, track.piece->seconds(), track.looks);
    }
  }
}

}  // namespace dryclock::engine
