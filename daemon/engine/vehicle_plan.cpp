#include "engine/vehicle_plan.hpp"

#include <algorithm>

#include "engine/minutes.hpp"
#include "engine/piece_spec.hpp"

namespace dryclock::engine {
namespace {

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
    PiecePlan laid;
    laid.id = event_->seq;
    laid.lay = lay;
    laid.laid = event_->at;
    laid.from = at_;
    laid.spec = piece_spec(event_->seq, lay, event_->at, catalogue_, measures_);
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
      const Millis span{static_cast<std::int64_t>(heat.minutes * 60'000.0)};
      target->heatings.push_back({at_, ceil_minute(event_->at + span), heat.surface_c});
    }
  }
  void add(const LampSwitched& lamp) { plan_.lamps.push_back({at_, lamp.on ? lamp.heat_w_m2 : 0.0}); }
  void add(const Planned& planned) { plan_.intents.push_back({at_, planned.pieces}); }
  void add(const Released& /*released*/) {
    plan_.released = event_->at;
    plan_.ended = at_;
    plan_.release_event = event_->seq;
  }
  // What these say does not change how anything dries.
  void add(const Rechecked& /*rechecked*/) {}
  void add(const Superseded& /*superseded*/) {}
  void add(const AlertAcknowledged& /*acknowledged*/) {}
  void add(const Noted& /*noted*/) {}
  void add(const Forgotten& /*forgotten*/) {}
  template <class OfTheShop>
  requires is_shop_event_kind<OfTheShop>
  void add(const OfTheShop& /*detail*/) {}

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

bool is(const PiecePlan& piece, const PlannedPiece& wanted) {
  return PlannedPiece{piece.lay.panel, piece.lay.part, piece.lay.parts} == wanted;
}

}  // namespace

bool PiecePlan::is_on(Time t) const {
  return from <= t && (!ended || t < *ended);
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
  std::erase_if(rest, [&](const PlannedPiece& wanted) {
    return std::any_of(pieces.begin(), pieces.end(),
                       [&](const PiecePlan& piece) { return !piece.ended && is(piece, wanted); });
  });
  return rest;
}

bool VehiclePlan::awaits_more(Time t) const {
  const auto after = std::upper_bound(intents.begin(), intents.end(), t,
                                      [](Time wanted, const Intent& i) { return wanted < i.from; });
  if (after == intents.begin()) {
    return false;
  }
  const auto& wanted = std::prev(after)->pieces;
  return !std::all_of(wanted.begin(), wanted.end(), [&](const PlannedPiece& one) {
    return std::any_of(pieces.begin(), pieces.end(),
                       [&](const PiecePlan& piece) { return piece.is_on(t) && is(piece, one); });
  });
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
