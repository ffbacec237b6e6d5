#include "engine/vehicle_plan.hpp"

#include <algorithm>
#include <set>

#include "domain/milestones.hpp"
#include "engine/minutes.hpp"
#include "engine/piece_spec.hpp"

namespace dryclock::engine {
namespace {

bool asks_for_edge(models::Milestone which) {
  return which == models::Milestone::wrap_ready || which == models::Milestone::trim_ready;
}

// Walks the events in order and writes what each says into the plan.
class Planner {
 public:
  Planner(VehiclePlan& plan, const Catalogue& catalogue, const FilmMeasures& measures)
      : plan_(plan), catalogue_(catalogue), measures_(measures) {}

  void apply(const Event& event) {
    event_ = &event;
    at_ = ceil_minute(event.at);
    std::visit([this](const auto& detail) { add(detail); }, event.detail);
  }

 private:
  using Kind = PieceAction::Kind;

  void add(const VehicleIn& in) {
    plan_.valid = true;
    plan_.reference = in.reference;
    plan_.arrived = event_->at;
    plan_.from = at_;
    plan_.panel_c = in.panel_c;
    plan_.hand_over = in.hand_over;
    plan_.stays.push_back({at_, in.bay});
  }
  void add(const VehicleMoved& moved) { plan_.stays.push_back({at_, moved.bay}); }
  void add(const HandOverAgreed& agreed) { plan_.hand_over = agreed.hand_over; }
  void add(const Lay& lay) {
    if (lay.replaces) {
      if (auto* old = piece(*lay.replaces)) {
        end(*old);
        old->replaced_by = event_->seq;
      }
    }
    for (const Beside& beside : lay.beside) {
      if (auto* other = piece(beside.piece)) {
        stand_beside(other->lay, beside, lay.parts);
        set_area(*other);
      }
    }
    PiecePlan laid;
    laid.id = event_->seq;
    laid.lay = lay;
    laid.told_area_m2 = told_area(lay);
    set_area(laid);
    laid.laid = event_->at;
    laid.from = at_;
    laid.spec = laid_spec(lay, event_->at, catalogue_, measures_);
    laid.measurement = measures_.event_for(lay.film, lay.lot, event_->at);
    laid.needed = needed(laid);
    plan_.pieces.push_back(std::move(laid));
  }
  void add(const EdgeOpened& opened) { act(opened.piece, Kind::open); }
  void add(const EdgeWrapped& wrapped) {
    if (auto* target = act(wrapped.piece, Kind::wrap)) {
      target->wrapped = event_->at;
    }
  }
  void add(const Trimmed& trimmed) {
    if (auto* target = act(trimmed.piece, Kind::trim)) {
      target->trimmed = event_->at;
    }
  }
  void add(const Refitted& refitted) {
    if (auto* target = act(refitted.piece, Kind::refit)) {
      target->refitted = event_->at;
    }
  }
  void add(const Inspected& inspected) {
    if (auto* target = act(inspected.piece, Kind::inspect)) {
      target->actions.back().zone = inspected.zone;
      target->actions.back().finding = inspected.finding;
    }
  }
  void add(const PieceRemoved& removed) {
    if (auto* target = piece(removed.piece)) {
      end(*target);
      target->removed = event_->at;
    }
  }
  void add(const HeatApplied& heat) {
    if (auto* target = piece(heat.piece)) {
      target->heatings.push_back(heating_of(heat, at_, target->zones(), target->area_m2));
    }
  }
  void add(const NotNeeded& told) {
    if (auto* target = piece(told.piece)) {
      auto& needed = target->needed[static_cast<std::size_t>(told.which)];
      needed = told.needed && (target->has(models::ZoneKind::edge) || !asks_for_edge(told.which));
    }
  }
  void add(const LampSwitched& lamp) {
    if (lamp.piece) {
      if (auto* target = piece(*lamp.piece)) {
        light(*target, lamp);
      }
      return;
    }
    double film_m2 = 0.0;
    for (auto& laid : plan_.pieces) {
      film_m2 += laid.is_on(at_) ? laid.area_m2 : 0.0;
      if (!lamp.on && !laid.lamps.empty()) {
        laid.lamps.push_back({at_, 0.0, {}});
      }
    }
    plan_.lamps.push_back({at_, lamp_heat(lamp, film_m2)});
  }
  // A zone that is all of the piece is lit as the piece is.
  void light(PiecePlan& target, const LampSwitched& lamp) {
    const bool part = lamp.zone && target.zones().size() > 1;
    const double area_m2 = part ? zone_area(*lamp.zone, target.area_m2) : target.area_m2;
    target.lamps.push_back({at_, lamp_heat(lamp, area_m2), part ? lamp.zone : std::nullopt});
  }
  void add(const Planned& planned) { plan_.intents.push_back({at_, planned.pieces}); }
  void add(const Released& /*released*/) {
    plan_.released = event_->at;
    plan_.ended = at_;
    plan_.release_event = event_->seq;
  }
  // What these say does not change how anything dries.
  void add(const Rechecked& rechecked) {
    if (auto* target = piece(rechecked.piece)) {
      target->rechecks.push_back(rechecked);
    }
  }
  void add(const Superseded& /*superseded*/) {}
  void add(const AlertAcknowledged& /*acknowledged*/) {}
  void add(const Noted& /*noted*/) {}
  void add(const Forgotten& /*forgotten*/) {}
  template <class OfTheShop>
  requires is_shop_event_kind<OfTheShop>
  void add(const OfTheShop& /*detail*/) {}

  // As the panel's entry says, until somebody says otherwise. A piece without an edge has nothing to wrap or
  // trim.
  [[nodiscard]] std::array<bool, models::milestone_kinds> needed(const PiecePlan& laid) const {
    std::array<bool, models::milestone_kinds> out;
    const auto* panel = find_panel(catalogue_, laid.lay.panel);
    const auto steps = panel == nullptr ? PanelEntry{}.steps : panel->steps;
    for (std::size_t k = 0; k < out.size(); ++k) {
      const auto which = static_cast<models::Milestone>(k);
      out[k] = traits(which).done == nullptr || (std::ranges::find(steps, which) != steps.end() &&
                                                 (laid.has(models::ZoneKind::edge) || !asks_for_edge(which)));
    }
    return out;
  }

  void set_area(PiecePlan& laid) const {
    laid.area_m2 = laid.told_area_m2 > 0.0 ? laid.told_area_m2 : area_of(laid.lay, catalogue_);
  }

  // Where none is told, what was told of the piece whose place it takes. 0: of none of them.
  double told_area(const Lay& lay) {
    const auto* old = lay.area_m2 > 0.0 || !lay.replaces ? nullptr : piece(*lay.replaces);
    return old != nullptr && same_part(old->lay, lay) ? old->told_area_m2 : lay.area_m2;
  }

  PiecePlan* piece(PieceId id) {
    const auto found =
        std::find_if(plan_.pieces.begin(), plan_.pieces.end(), [&](const auto& p) { return p.id == id; });
    return found == plan_.pieces.end() ? nullptr : &*found;
  }
  PiecePlan* act(PieceId id, Kind kind) {
    auto* target = piece(id);
    if (target != nullptr) {
      target->actions.push_back({kind, at_, event_->seq, {}, {}});
    }
    return target;
  }
  void end(PiecePlan& old) {
    if (!old.ended) {
      old.ended = at_;
    }
  }

  VehiclePlan& plan_;
  const Catalogue& catalogue_;
  const FilmMeasures& measures_;
  const Event* event_ = nullptr;
  Time at_;
};

// It stands, or all parts of it do.
bool is_laid(const std::vector<PiecePlan>& pieces, const PlannedPiece& wanted) {
  std::set<int> parts;
  int of = 0;
  for (const auto& piece : pieces) {
    if (piece.ended || piece.lay.panel != wanted.panel || piece.lay.side != wanted.side) {
      continue;
    }
    if (same_part(piece.lay, wanted)) {
      return true;
    }
    parts.insert(piece.lay.part);
    of = piece.lay.parts;
  }
  return wanted.parts == 1 && of > 1 && parts.size() == static_cast<std::size_t>(of);
}

}  // namespace

bool PiecePlan::is_on(Time t) const {
  return from <= t && (!ended || t < *ended);
}

PiecePlan::Lamp PiecePlan::lamp_at(Time t) const {
  const auto after = std::upper_bound(lamps.begin(), lamps.end(), t,
                                      [](Time wanted, const Lamp& l) { return wanted < l.from; });
  return after == lamps.begin() ? Lamp{} : *std::prev(after);
}

bool PiecePlan::has(models::ZoneKind kind) const {
  return std::ranges::find(spec.zones, kind, &models::LaidZone::kind) != spec.zones.end();
}

std::vector<models::ZoneKind> PiecePlan::zones() const {
  std::vector<models::ZoneKind> kinds;
  for (const auto& zone : spec.zones) {
    if (std::ranges::find(kinds, zone.kind) == kinds.end()) {
      kinds.push_back(zone.kind);
    }
  }
  return kinds;
}

bool PiecePlan::looked_at() const {
  return std::ranges::find(actions, PieceAction::Kind::inspect, &PieceAction::kind) != actions.end();
}

const std::string& VehiclePlan::bay_at(Time t) const {
  const auto after = std::upper_bound(stays.begin(), stays.end(), t,
                                      [](Time wanted, const Stay& s) { return wanted < s.from; });
  return after == stays.begin() ? stays.front().bay : std::prev(after)->bay;
}

double VehiclePlan::lamp_at(Time t) const {
  const auto after = std::upper_bound(lamps.begin(), lamps.end(), t,
                                      [](Time wanted, const Lamp& l) { return wanted < l.from; });
  return after == lamps.begin() ? 0.0 : std::prev(after)->heat_w_m2;
}

std::optional<Time> VehiclePlan::last_on(Time t) const {
  std::optional<Time> last;
  for (const auto& piece : pieces) {
    if (piece.is_on(t)) {
      last = std::max(last.value_or(piece.from), piece.from);
    }
  }
  return last;
}

std::vector<PlannedPiece> VehiclePlan::to_lay() const {
  auto rest = intents.empty() ? std::vector<PlannedPiece>{} : intents.back().pieces;
  std::erase_if(rest, [&](const PlannedPiece& wanted) { return is_laid(pieces, wanted); });
  return rest;
}

VehiclePlan make_plan(VehicleId id, const std::vector<Event>& events, const Catalogue& catalogue,
                      const FilmMeasures& measures) {
  VehiclePlan plan;
  plan.id = id;
  Planner planner{plan, catalogue, measures};
  for (const auto& event : events) {
    planner.apply(event);
  }
  plan.valid = plan.valid && !plan.stays.empty();
  for (const auto& piece : plan.pieces) {
    if (!piece.ended && (!plan.last_laid || piece.from > *plan.last_laid)) {
      plan.last_laid = piece.from;
    }
  }
  return plan;
}

}  // namespace dryclock::engine
