#include "engine/summaries.hpp"

#include <algorithm>

#include "domain/milestones.hpp"
#include "domain/piece_fact.hpp"
#include "engine/facts.hpp"
#include "engine/minutes.hpp"
#include "engine/piece_spec.hpp"
#include "engine/still_air.hpp"
#include "models/humid_air.hpp"
#include "models/pace.hpp"
#include "models/piece_reach.hpp"

namespace dryclock::engine {
namespace {

using models::Milestone;

constexpr int most_points = 150;  // of a history: as fine as a plot shows

void mark_bridged(PieceState& view) {
  view.validity |= models::bridged_gap;
  for (auto& zone : view.zones) {
    zone.validity |= models::bridged_gap;
  }
}

// Of what the piece was laid with. What left the files before the journal's first settings is not even known.
std::vector<CatalogueKind> gone_from(const Catalogue& catalogue, const Lay& lay) {
  std::vector<CatalogueKind> out;
  const auto note = [&](CatalogueKind kind, const auto* entry, bool must_be_known) {
    if (entry != nullptr ? entry->gone : must_be_known) {
      out.push_back(kind);
    }
  };
  note(CatalogueKind::panel, find_panel(catalogue, lay.panel), false);  // may be in the user's own words
  note(CatalogueKind::film, find_film(catalogue, lay.film), !lay.film.empty());
  note(CatalogueKind::solution, find_solution(catalogue, lay.solution), !lay.solution.empty());
  return out;
}

const OutlookAnswer::Item* answered(const OutlookAnswer* answer, PieceId piece) {
  if (answer == nullptr) {
    return nullptr;
  }
  const auto found = std::ranges::find(answer->pieces, piece, &OutlookAnswer::Item::id);
  return found == answer->pieces.end() ? nullptr : &*found;
}

// `item`: of the newest outlook, or null. `begun`: there was air since it was laid.
MilestoneView milestone_view(Milestone which, const PiecePlan& plan, const Calls::Known& said,
                             const OutlookAnswer::Item* item, bool begun,
                             const models::Thresholds& thresholds) {
  const auto k = static_cast<std::size_t>(which);
  MilestoneView out;
  out.which = which;
  out.needed = plan.needed[k];
  out.look = said.look;
  out.announced = said.ready;
  out.by_word = said.by_word;
  if (item != nullptr) {
    const auto& reach = item->reach[k];
    out.probability = reach.probability;
    out.limiting_zone = reach.limiting_zone;
    if (!out.announced) {
      out.announces = reach.announces;
      out.expected = reach.expected;
      out.hours_to_go = reach.hours_to_go;
    }
  }
  if (!out.announced && out.needed) {
    out.held_by = !begun ? Fact{"limits.no-readings"}
                  : item == nullptr || !out.limiting_zone
                      ? Fact{"limits.no-estimate"}
                      : held_by(item->state.zones, *out.limiting_zone, which, thresholds);
  }
  return out;
}

std::optional<NextStep> next_step(const PieceSummary& piece) {
  for (const auto which : {Milestone::wrap_ready, Milestone::trim_ready, Milestone::refit_ready}) {
    const auto& view = milestone_of(piece, which);
    if (!view.needed || done_at(piece, which)) {
      continue;
    }
    const auto state = view.announced ? StepState::ready : view.look ? StepState::look : StepState::drying;
    return NextStep{which, state, view.announced ? view.announced : view.look, view.announces, view.expected};
  }
  return {};
}

PieceSummary summarise_piece(const PiecePlan& plan, const Vehicle& vehicle, const Bays& bays,
                             const Told& told, Time now) {
  PieceSummary out;
  out.id = plan.id;
  out.panel = plan.lay.panel;
  out.side = plan.lay.side;
  out.part = plan.lay.part;
  out.parts = plan.lay.parts;
  out.place = plan.lay.place;
  out.film = plan.lay.film;
  out.solution = plan.lay.solution;
  out.gone = gone_from(vehicle.terms->catalogue, plan.lay);
  out.wetness = plan.lay.wetness;
  out.zones = plan.zones();
  out.laid = plan.laid;
  out.wrapped = plan.wrapped;
  out.trimmed = plan.trimmed;
  out.refitted = plan.refitted;
  out.removed = plan.removed;
  out.replaced_by = plan.replaced_by;
  out.replaces = plan.lay.replaces;
  out.notes = plan.lay.notes;
  out.early_steps = told.early_steps.of(plan.id, told.shop);

  const auto* track = vehicle.track.piece(plan.id);
  const bool begun = track != nullptr && track->piece;
  const auto* item = answered(told.answer, plan.id);
  out.as_of = track != nullptr ? *vehicle.track.integrated() : plan.laid;
  if (item != nullptr) {
    out.state = item->state;
  }
  if (begun) {
    out.state.panel = track->piece->panel();
    out.standard_hours = track->standard_hours;
    const bool unread = now - out.as_of > bays.bridge_after() && !plan.ended && !vehicle.plan.ended;
    if (track->bridged || unread) {
      mark_bridged(out.state);
    }
  }
  for (std::size_t k = 0; k < models::milestone_kinds; ++k) {
    out.milestones[k] = milestone_view(static_cast<Milestone>(k), plan, told.calls.of(plan.id)[k], item,
                                       begun, vehicle.terms->thresholds);
  }
  if (!plan.ended) {
    out.next = next_step(out);
  }
  return out;
}

SensorRead read_of(const SensorMapping& mapping) {
  return {mapping.topic, mapping.pointer, mapping.quantity,    mapping.unit,
          mapping.slope, mapping.offset,  mapping.time_pointer};
}

PieceToLay still_to_lay(const PlannedPiece& piece, const OutlookAnswer* answer) {
  if (answer != nullptr) {
    const auto found = std::find(answer->to_lay.begin(), answer->to_lay.end(), piece);
    if (found != answer->to_lay.end()) {
      return *found;
    }
  }
  return {piece, {}, {}};
}

Fact release_held_by(const VehicleSummary& vehicle, const Vehicle& known, Time now) {
  const auto& plan = known.plan;
  const Millis least_indoor = known.terms->least_indoor;
  const auto leave = [](const PieceSummary& piece) -> const MilestoneView& {
    return piece.milestones[static_cast<std::size_t>(Milestone::may_leave)];
  };
  const PieceSummary* worst = nullptr;
  for (const auto& piece : vehicle.pieces) {
    const bool on = !piece.removed && !piece.replaced_by;
    if (on && !leave(piece).announced &&
        (worst == nullptr || leave(piece).probability < leave(*worst).probability)) {
      worst = &piece;
    }
  }
  if (!vehicle.to_lay.empty()) {
    const auto& next = vehicle.to_lay.front();
    return {"limits.to-lay", {say::fact("piece", piece_fact(next))}};
  }
  if (worst != nullptr) {
    return {"limits.piece",
            {say::fact("piece", piece_fact(name_of_piece(*worst))), say::fact("why", leave(*worst).held_by)}};
  }
  if (!plan.last_laid) {
    return {"limits.no-film"};
  }
  const Millis kept = indoors(plan, *plan.last_laid, now);
  if (kept < least_indoor) {
    return {"limits.indoors", {span_value("span", least_indoor - kept)}};
  }
  return {"limits.unsure-all"};
}

}  // namespace

BaySummary summarise(const BaySetup& bay, const Bays& bays, const Screen& screen, Time now) {
  BaySummary out;
  out.name = bay.name;
  out.gone = bay.gone;
  out.sensors = screen.sensors(bay.name);
  const BayAir* air = bays.find(bay.name);
  if (air == nullptr) {
    return out;
  }
  const auto present = air->present(now);
  out.air_c = present.air_c;
  out.rh_pct = present.rh_pct;
  out.panel_c = present.panel_c;
  out.as_of = present.as_of;
  if (present.air_c && present.rh_pct) {
    const models::Celsius temperature{*present.air_c};
    const models::Humidity humidity{*present.rh_pct / 100.0};
    const auto vapour = models::vapour_pressure(temperature, humidity);
    out.dew_point_c = models::dew_point(vapour).value();
    out.vapour_density_gm3 = models::vapour_density(temperature, vapour).value();
    out.pace = models::pace(models::Celsius{present.panel_c.value_or(*present.air_c)}, temperature, humidity);
  }
  return out;
}

std::vector<PlateAsk> looks_asked_in(const std::string& bay, const std::vector<PlateView>& plates) {
  std::vector<PlateAsk> asks;
  for (const auto& plate : plates) {
    for (const auto& strip : plate.zones) {
      if (plate.plate.bay == bay && strip.look) {
        asks.push_back({plate.id,
                        strip.kind,
                        {"plates.ask", {say::film("film", plate.plate.film), zone_value(strip.kind)}}});
      }
    }
  }
  return asks;
}

SensorView summarise(const SensorEntry& sensor, const Screen& screen, const SaltBox& salts, Time now) {
  SensorView view;
  view.name = sensor.name;
  view.bay = sensor.bay;
  view.model = sensor.model;
  view.place = sensor.place;
  view.from = sensor.from_file ? SensorOrigin::file : SensorOrigin::assigned;
  if (!sensor.from_file) {
    view.since = sensor.since;
  }
  view.tolerance_pct = sensor.tolerance_pct;
  const auto known = screen.by_name().find(sensor.name);
  view.heard = known == screen.by_name().end() ? std::nullopt : known->second.heard;
  for (const auto& summary : screen.sensors(sensor.bay)) {
    const auto* mapping = summary.sensor == sensor.name ? sensor.mapping(summary.quantity) : nullptr;
    if (mapping != nullptr) {
      view.reads.push_back(
          {read_of(*mapping), summary.value, summary.at, summary.last_verdict, summary.counts});
    }
  }
  if (sensor.checking(now) != nullptr) {
    view.checking = salts.progress(sensor, now);
  }
  if (!sensor.checks.empty()) {
    const auto& last = sensor.checks.back();
    view.last_check = PastCheck{last.at, last.result, last.current, last.at + check_every};
  }
  return view;
}

VehicleSummary summarise(const Vehicle& vehicle, const Bays& bays, const Told& told, Time now) {
  const auto& plan = vehicle.plan;
  const auto* answer = told.answer;
  VehicleSummary out;
  out.id = plan.id;
  out.reference = plan.reference;
  out.bay = plan.bay_now();
  out.arrived = plan.arrived;
  out.hand_over = plan.hand_over;
  out.released = plan.released;
  for (const PlannedPiece& piece : plan.to_lay()) {
    out.to_lay.push_back(still_to_lay(piece, answer));
  }
  for (const auto& piece : plan.pieces) {
    out.pieces.push_back(summarise_piece(piece, vehicle, bays, told, now));
  }
  std::stable_partition(out.pieces.begin(), out.pieces.end(),
                        [](const PieceSummary& p) { return !p.removed && !p.replaced_by; });
  const auto& said = told.calls.release_of(plan.id);
  out.release_look = said.look;
  out.release_ready = said.ready;
  const bool awaited = !out.release_ready && !out.released;
  if (awaited) {
    out.held_by = release_held_by(out, vehicle, now);
  }
  if (answer != nullptr) {
    out.release_probability = answer->release_probability;
    out.full_strength = answer->full_strength;
    out.hand_over_probability = plan.hand_over ? answer->hand_over_probability : std::nullopt;
    if (awaited) {
      out.release_announces = answer->release_announces;
      out.release_expected = answer->release;
    }
  }
  return out;
}

std::vector<HistoryPoint> history_of(const PiecePlan& piece, const Vehicle& vehicle, const Bays& bays,
                                     const models::ShopBelief& belief, Millis every) {
  std::vector<HistoryPoint> out;
  const auto until = vehicle.track.integrated();
  if (!until || piece.from > *until) {
    return out;
  }
  VehiclePlan alone = vehicle.plan;
  alone.pieces = {piece};
  VehicleTrack track{vehicle.terms->slowest_panel};
  const Time end = std::min(*until, piece.ended.value_or(*until));
  every *= (end - piece.from) / (every * most_points) + 1;
  // A hole in the air is told by its two ends.
  const auto skip_hole = [&](Time t) {
    if (bays.at(alone.bay_at(t), t).known == Bays::Known::yes) {
      return t;
    }
    const Time still = next_change(alone, bays, t).value_or(end + minute) - minute;
    return still > t ? t + (still - t) / every * every : t;
  };
  const auto nodes = belief.nodes(piece.belief_key());
  const auto levels = belief.levels(piece.belief_key());
  for (Time t = piece.from; t <= end; t = skip_hole(t) + every) {
    track.integrate(alone, bays, t, VehicleTrack::Beyond::wait);
    const auto* at = track.piece(piece.id);
    if (at == nullptr || !at->piece) {
      continue;
    }
    HistoryPoint point{*track.integrated(), {}, at->pace};
    for (std::size_t zone = 0; zone < at->piece->zones().size(); ++zone) {
      const auto holds =
          models::zone_holds(*at->piece, zone, at->piece->trace(zone).size() - 1, nodes, levels);
      point.zones.push_back(
          {at->piece->zones()[zone].kind, holds.water, holds.excess, holds.bond, holds.wet_share});
    }
    out.push_back(std::move(point));
  }
  return out;
}

}  // namespace dryclock::engine
