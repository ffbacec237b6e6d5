#include "engine/check_event.hpp"

#include <algorithm>
#include <set>

#include "domain/milestones.hpp"
#include "domain/names.hpp"
#include "domain/piece_fact.hpp"
#include "engine/check_test_event.hpp"
#include "engine/facts.hpp"
#include "engine/one_panel.hpp"
#include "engine/piece_spec.hpp"
#include "engine/refusals.hpp"

namespace dryclock::engine {
namespace {

constexpr Millis ahead_allowed = std::chrono::minutes{5};  // two clocks are never the same
constexpr Millis year = std::chrono::hours{366 * 24};      // no job takes longer; a wrong date does

Value named(const PiecePlan& piece) {
  return say::fact("piece", piece_fact(name_of_piece(piece.lay)));
}
// Of a panel that takes so many.
Allowed part_of(const std::string& panel, int part, int parts, const char* where) {
  if (part > parts) {
    return Refusal{{"refusals.no-such-part",
                    {say::panel("panel", panel), numbered("part", part), numbered("parts", parts)}},
                   where};
  }
  return {};
}

// Whether a piece, or a part of the panel, is told of twice by a lay and the pieces beside it.
bool tells_twice(const Lay& lay) {
  std::set<int> parts{lay.part};
  std::set<PieceId> pieces{lay.replaces.value_or(0)};
  return !std::ranges::all_of(lay.beside, [&](const Beside& beside) {
    return parts.insert(beside.part).second && pieces.insert(beside.piece).second;
  });
}

class Checker {
 public:
  Checker(const Event& event, const Shop& shop, const Setup& setup, const OpenAlerts& alerts,
          const SensorRegistry& sensors, Seq first_seq)
      : event_(event),
        shop_(shop),
        setup_(setup),
        alerts_(alerts),
        sensors_(sensors),
        first_seq_(first_seq) {}

  Allowed operator()(const VehicleIn& in) const {
    if (in.reference.empty()) {
      return Refusal{{"refusals.no-reference"}, "/reference"};
    }
    for (const auto& [id, vehicle] : shop_.vehicles()) {
      if (Shop::is_open(vehicle) && vehicle.plan.reference == in.reference) {
        return Refusal{{"refusals.in-shop", {say::text("reference", in.reference), numbered("vehicle", id)}},
                       "/reference"};
      }
    }
    if (in.hand_over && *in.hand_over <= event_.at) {
      return Refusal{{"refusals.hand-over-early"}, "/hand_over"};
    }
    return bay(in.bay);
  }
  Allowed operator()(const VehicleMoved& moved) const {
    if (auto wrong = vehicle(moved.vehicle); !wrong) {
      return wrong;
    }
    return bay(moved.bay);
  }
  Allowed operator()(const HandOverAgreed& agreed) const {
    if (auto wrong = vehicle(agreed.vehicle); !wrong) {
      return wrong;
    }
    if (agreed.hand_over && *agreed.hand_over <= shop_.vehicle(agreed.vehicle)->plan.arrived) {
      return Refusal{{"refusals.hand-over-early"}, "/hand_over"};
    }
    return {};
  }
  Allowed operator()(const Lay& lay) const {
    if (auto wrong = vehicle(lay.vehicle); !wrong) {
      return wrong;
    }
    if (lay.panel.empty()) {
      return Refusal{{"refusals.which-panel"}, "/panel"};
    }
    if (auto wrong = part_of(lay.panel, lay.part, lay.parts, "/part"); !wrong) {
      return wrong;
    }
    const auto& catalogue = shop_.catalogue();
    if (auto wrong = known_film(catalogue, lay.film); !wrong) {
      return wrong;
    }
    if (auto wrong = known_solution(catalogue, lay.solution); !wrong) {
      return wrong;
    }
    // A panel may be named in the user's own words; its zones must then be given: nothing else does.
    if (!offered(find_panel(catalogue, lay.panel)) && lay.zones.empty()) {
      return Refusal{{"refusals.no-panel", {say::text("panel", lay.panel), known_keys(catalogue.panels)}},
                     "/panel"};
    }
    if (lay.replaces) {
      if (auto wrong = piece_on(lay.vehicle, *lay.replaces, "/replaces"); !wrong) {
        return wrong;
      }
    }
    for (const Beside& beside : lay.beside) {
      if (auto wrong = piece_on(lay.vehicle, beside.piece, "/beside"); !wrong) {
        return wrong;
      }
      if (!is_beside(shop_.piece(beside.piece)->lay, lay)) {
        return Refusal{{"refusals.other-panel", {named(*shop_.piece(beside.piece))}}, "/beside"};
      }
      if (auto wrong = part_of(lay.panel, beside.part, lay.parts, "/beside"); !wrong) {
        return wrong;
      }
    }
    if (tells_twice(lay)) {
      return Refusal{{"refusals.part-twice", {say::panel("panel", lay.panel)}}, "/beside"};
    }
    return free_place(lay);
  }
  Allowed operator()(const Inspected& seen) const {
    if (auto wrong = piece(seen.piece); !wrong) {
      return wrong;
    }
    return zone_of(*shop_.piece(seen.piece), seen.zone);
  }
  Allowed operator()(const HeatApplied& heat) const {
    if (heat.minutes <= 0.0) {
      return Refusal{{"refusals.no-minutes"}, "/minutes"};
    }
    if (auto wrong = piece(heat.piece); !wrong || !heat.zone) {
      return wrong;
    }
    return zone_of(*shop_.piece(heat.piece), *heat.zone);
  }
  Allowed operator()(const NotNeeded& told) const {
    if (traits(told.which).done == nullptr) {
      return Refusal{{"refusals.no-step"}, "/which"};
    }
    return piece(told.piece);
  }
  Allowed operator()(const LampSwitched& lamp) const {
    if (lamp.on && lamp.heat_w_m2 <= 0.0) {
      return Refusal{{"refusals.lamp-without-heat"}, "/heat_w_m2"};
    }
    if (auto wrong = vehicle(lamp.vehicle); !wrong) {
      return wrong;
    }
    if (!lamp.piece) {
      return lamp.zone || lamp.area_m2 > 0.0 ? Allowed{Refusal{{"refusals.lamp-where"}, "/piece"}}
                                             : Allowed{};
    }
    if (auto wrong = piece_on(lamp.vehicle, *lamp.piece, "/piece"); !wrong) {
      return wrong;
    }
    return lamp.zone ? zone_of(*shop_.piece(*lamp.piece), *lamp.zone) : Allowed{};
  }
  Allowed operator()(const Released& released) const { return vehicle(released.vehicle); }
  Allowed operator()(const Rechecked& rechecked) const {
    if (rechecked.zone && rechecked.finding == RecheckFinding::sound) {
      return Refusal{{"refusals.sound-lifts"}, "/zone"};
    }
    if (rechecked.piece > 0 && rechecked.piece < first_seq_) {
      return {};  // handed over before this engine's memory begins: the journal knows it
    }
    const auto* laid = shop_.piece(rechecked.piece);
    if (laid == nullptr) {
      return no_piece(rechecked.piece, "/piece");
    }
    return after(laid->laid, "refusals.laid-later", named(*laid));
  }
  Allowed operator()(const Superseded& correction) const {
    if (shop_.event(correction.event) == nullptr) {
      return Refusal{{"refusals.no-event", {numbered("event", correction.event)}}, "/event"};
    }
    if (std::holds_alternative<Forgotten>(shop_.event(correction.event)->detail)) {
      return Refusal{{"refusals.erased"}, "/event"};
    }
    if (shop_.superseded(correction.event)) {
      return Refusal{{"refusals.superseded", {numbered("event", correction.event)}}, "/event"};
    }
    return {};
  }
  Allowed operator()(const AlertAcknowledged& acknowledged) const {
    if (alerts_.find(acknowledged.alert) == nullptr) {
      return Refusal{{"refusals.no-alert", {say::text("alert", acknowledged.alert)}}, "/alert"};
    }
    return {};
  }
  Allowed operator()(const Noted& noted) const {
    const auto* found = shop_.vehicle(noted.vehicle);
    if ((found == nullptr || !found->plan.valid) && noted.vehicle >= first_seq_) {
      return no_vehicle(noted.vehicle);
    }
    return {};
  }
  // Whether there is anything to erase only the database knows.
  Allowed operator()(const Forgotten& /*forgotten*/) const { return {}; }
  Allowed operator()(const Planned& planned) const {
    for (const auto& piece : planned.pieces) {
      if (piece.panel.empty()) {
        return Refusal{{"refusals.which-panel"}, "/pieces"};
      }
      if (auto wrong = part_of(piece.panel, piece.part, piece.parts, "/pieces"); !wrong) {
        return wrong;
      }
      if (std::ranges::count_if(planned.pieces,
                                [&](const PlannedPiece& one) { return same_part(one, piece); }) > 1) {
        return Refusal{{"refusals.planned-twice", {say::panel("panel", piece.panel)}}, "/pieces"};
      }
    }
    return vehicle(planned.vehicle);
  }
  template <class OfSensor>
  requires requires(OfSensor detail) { detail.sensor; }
  Allowed operator()(const OfSensor& /*detail*/) const { return sensors_.possible(event_); }
  template <class OfTest>
  requires is_test_event_kind<OfTest> Allowed operator()(const OfTest& /*detail*/) const {
    return check_test_event(event_, shop_, setup_.bays);
  }
  Allowed operator()(const LearnAnew& anew) const {
    if (anew.since > event_.at + ahead_allowed) {
      return Refusal{{"refusals.in-future", {say::time("at", anew.since)}}, "/since"};
    }
    return {};
  }
  template <class OfPiece>  // EdgeOpened, EdgeWrapped, Trimmed, PieceRemoved, Refitted
  Allowed operator()(const OfPiece& detail) const {
    return piece(detail.piece);
  }

 private:
  [[nodiscard]] static Refusal no_vehicle(VehicleId id) {
    return {{"refusals.no-vehicle", {numbered("vehicle", id)}}, "/vehicle"};
  }
  [[nodiscard]] static Refusal no_piece(PieceId id, const char* where) {
    return {{"refusals.no-piece", {numbered("piece", id)}}, where};
  }

  [[nodiscard]] Allowed after(Time earliest, const char* key, Value whose) const {
    return not_before(earliest, event_, key, std::move(whose));
  }

  [[nodiscard]] static Allowed zone_of(const PiecePlan& laid, models::ZoneKind zone) {
    if (laid.has(zone)) {
      return {};
    }
    return Refusal{{"refusals.no-zone", {named(laid), zone_value(zone)}}, "/zone"};
  }

  [[nodiscard]] Allowed bay(const std::string& name) const { return known_bay(setup_.bays, name, true); }

  // Still in the shop at the event's time.
  [[nodiscard]] Allowed vehicle(VehicleId id) const {
    const auto* found = shop_.vehicle(id);
    if (found == nullptr || !found->plan.valid) {
      return no_vehicle(id);
    }
    return in_shop(*found);
  }

  [[nodiscard]] Allowed in_shop(const Vehicle& found) const {
    const auto& plan = found.plan;
    auto reference = say::text("reference", plan.reference);
    if (plan.released && event_.at >= *plan.released) {
      return Refusal{{"refusals.handed-over", {std::move(reference), say::time("at", *plan.released)}},
                     "/vehicle"};
    }
    // A release that is entered twice is no late entry.
    if (plan.released && std::holds_alternative<Released>(event_.detail)) {
      return Refusal{{"refusals.handed-over-already", {std::move(reference)}}, "/vehicle"};
    }
    return after(plan.arrived, "refusals.arrived-later", std::move(reference));
  }

  // On the vehicle at the event's time.
  [[nodiscard]] Allowed piece(PieceId id, const char* where = "/piece") const {
    const auto* found = shop_.piece(id);
    if (found == nullptr) {
      return no_piece(id, where);
    }
    if (auto wrong = in_shop(*shop_.vehicle_of(id)); !wrong) {
      return wrong;
    }
    if (found->replaced_by) {
      return Refusal{
          {"refusals.replaced", {named(*found), numbered("old", id), numbered("by", *found->replaced_by)}},
          where};
    }
    if (found->removed) {
      return Refusal{{"refusals.removed", {named(*found), say::time("at", *found->removed)}}, where};
    }
    return after(found->laid, "refusals.laid-later", named(*found));
  }

  [[nodiscard]] Allowed piece_on(VehicleId vehicle, PieceId id, const char* where) const {
    if (auto wrong = piece(id, where); !wrong) {
      return wrong;
    }
    if (shop_.vehicle_of(id)->plan.id != vehicle) {
      return Refusal{{"refusals.other-vehicle", {named(*shop_.piece(id))}}, where};
    }
    return {};
  }

  // What stands where it is laid is named in it: as what it replaces, or as another part of the same panel.
  [[nodiscard]] Allowed free_place(const Lay& lay) const {
    std::vector<Fact> there;
    for (const auto& other : shop_.vehicle(lay.vehicle)->plan.pieces) {
      const bool named_in_it = other.id == lay.replaces ||
                               std::ranges::find(lay.beside, other.id, &Beside::piece) != lay.beside.end();
      if (other.is_on(event_.at) && !named_in_it && is_in_the_way(other.lay, lay)) {
        there.push_back({"refusals.piece-there",
                         {named(other), numbered("number", other.id), say::time("at", other.laid)}});
      }
    }
    if (there.empty()) {
      return {};
    }
    return Refusal{{"refusals.has-piece", {say::facts("pieces", std::move(there))}}, "/panel"};
  }

  const Event& event_;
  const Shop& shop_;
  const Setup& setup_;
  const OpenAlerts& alerts_;
  const SensorRegistry& sensors_;
  Seq first_seq_;
};

}  // namespace

Allowed check_event(const Event& event, const Shop& shop, const Setup& setup, const OpenAlerts& alerts,
                    const SensorRegistry& sensors, Time now, Seq first_seq) {
  if (event.at > now + ahead_allowed) {
    return Refusal{{"refusals.in-future", {say::time("at", event.at)}}, "/at"};
  }
  return std::visit(Checker{event, shop, setup, alerts, sensors, first_seq}, event.detail);
}

Allowed check_dates(const Event& event, Time now) {
  if (event.at < now - year) {
    return Refusal{
        {"refusals.years-back", {say::time("at", event.at), say::count("years", (now - event.at) / year)}},
        "/at"};
  }
  std::optional<Time> hand_over;
  if (const auto* in = std::get_if<VehicleIn>(&event.detail)) {
    hand_over = in->hand_over;
  } else if (const auto* agreed = std::get_if<HandOverAgreed>(&event.detail)) {
    hand_over = agreed->hand_over;
  }
  if (hand_over && *hand_over > now + year) {
    return Refusal{{"refusals.years-ahead",
                    {say::time("at", *hand_over), say::count("years", (*hand_over - now) / year)}},
                   "/hand_over"};
  }
  return {};
}

}  // namespace dryclock::engine
