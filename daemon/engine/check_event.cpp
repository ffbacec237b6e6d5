#include "engine/check_event.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "engine/piece_spec.hpp"

namespace dryclock::engine {
namespace {

constexpr Millis ahead_allowed = std::chrono::minutes{5};  // two clocks are never the same
constexpr Millis year = std::chrono::hours{366 * 24};      // no job takes longer; a wrong date does

template <class Entries>
std::string known_keys(const Entries& entries) {
  std::string keys;
  for (const auto& entry : entries) {
    keys += entry.gone ? "" : (keys.empty() ? "" : ", ") + entry.key;
  }
  return keys;
}

// Whether it can be laid now.
template <class Entry>
bool offered(const Entry* entry) {
  return entry != nullptr && !entry->gone;
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

  Result<void> operator()(const VehicleIn& in) const {
    if (in.reference.empty()) {
      return Problem{"a vehicle needs a reference", "/reference"};
    }
    for (const auto& [id, vehicle] : shop_.vehicles()) {
      if (Shop::is_open(vehicle) && vehicle.plan.reference == in.reference) {
        return Problem{fmt::format("\"{}\" is in the shop already, as vehicle {}", in.reference, id),
                       "/reference"};
      }
    }
    if (in.hand_over && *in.hand_over <= event_.at) {
      return Problem{"the hand-over is before the arrival", "/hand_over"};
    }
    return bay(in.bay);
  }
  Result<void> operator()(const VehicleMoved& moved) const {
    if (auto wrong = vehicle(moved.vehicle); !wrong) {
      return wrong;
    }
    return bay(moved.bay);
  }
  Result<void> operator()(const HandOverAgreed& agreed) const {
    if (auto wrong = vehicle(agreed.vehicle); !wrong) {
      return wrong;
    }
    if (agreed.hand_over && *agreed.hand_over <= shop_.vehicle(agreed.vehicle)->plan.arrived) {
      return Problem{"the hand-over is before the arrival", "/hand_over"};
    }
    return {};
  }
  Result<void> operator()(const Lay& lay) const {
    if (auto wrong = vehicle(lay.vehicle); !wrong) {
      return wrong;
    }
    if (lay.panel.empty()) {
      return Problem{"which panel?", "/panel"};
    }
    if (lay.part > lay.parts) {
      return Problem{fmt::format("part {} of {}", lay.part, lay.parts), "/part"};
    }
    const auto& catalogue = shop_.catalogue();
    if (!offered(find_film(catalogue, lay.film))) {
      return Problem{fmt::format("no film \"{}\"; known: {}", lay.film, known_keys(catalogue.films)),
                     "/film"};
    }
    if (!offered(find_solution(catalogue, lay.solution))) {
      return Problem{
          fmt::format("no solution \"{}\"; known: {}", lay.solution, known_keys(catalogue.solutions)),
          "/solution"};
    }
    // A panel may be named in the user's own words; its zones must then be given: nothing else does.
    if (!offered(find_panel(catalogue, lay.panel)) && lay.zones.empty()) {
      return Problem{fmt::format("no panel \"{}\"; known: {}. In your own words, name its zones too",
                                 lay.panel, known_keys(catalogue.panels)),
                     "/panel"};
    }
    if (!lay.replaces) {
      return {};
    }
    if (auto wrong = piece(*lay.replaces, "/replaces"); !wrong) {
      return wrong;
    }
    if (shop_.vehicle_of(*lay.replaces)->plan.id != lay.vehicle) {
      return Problem{fmt::format("piece {} is on another vehicle", *lay.replaces), "/replaces"};
    }
    return {};
  }
  Result<void> operator()(const Inspected& seen) const {
    if (auto wrong = piece(seen.piece); !wrong) {
      return wrong;
    }
    const auto& zones = shop_.piece(seen.piece)->spec.zones;
    if (std::none_of(zones.begin(), zones.end(), [&](const auto& zone) { return zone.kind == seen.zone; })) {
      return Problem{fmt::format("piece {} has no such zone", seen.piece), "/zone"};
    }
    return {};
  }
  Result<void> operator()(const HeatApplied& heat) const {
    if (heat.minutes <= 0.0) {
      return Problem{"for how many minutes?", "/minutes"};
    }
    return piece(heat.piece);
  }
  Result<void> operator()(const LampSwitched& lamp) const {
    if (lamp.on && lamp.heat_w_m2 <= 0.0) {
      return Problem{"a lamp that is on gives some heat", "/heat_w_m2"};
    }
    return vehicle(lamp.vehicle);
  }
  Result<void> operator()(const Released& released) const { return vehicle(released.vehicle); }
  Result<void> operator()(const Rechecked& rechecked) const {
    if (rechecked.zone && rechecked.finding == RecheckFinding::sound) {
      return Problem{"a piece that is sound lifts nowhere", "/zone"};
    }
    if (rechecked.piece > 0 && rechecked.piece < first_seq_) {
      return {};  // handed over before this engine's memory begins: the journal knows it
    }
    const auto* laid = shop_.piece(rechecked.piece);
    if (laid == nullptr) {
      return Problem{fmt::format("no piece {}", rechecked.piece), "/piece"};
    }
    return after(laid->laid, fmt::format("piece {} was laid", rechecked.piece));
  }
  Result<void> operator()(const Superseded& correction) const {
    if (shop_.event(correction.event) == nullptr) {
      return Problem{fmt::format("no event {}", correction.event), "/event"};
    }
    if (std::holds_alternative<Forgotten>(shop_.event(correction.event)->detail)) {
      return Problem{"what was erased cannot be brought back", "/event"};
    }
    if (shop_.superseded(correction.event)) {
      return Problem{fmt::format("event {} is superseded already", correction.event), "/event"};
    }
    return {};
  }
  Result<void> operator()(const AlertAcknowledged& acknowledged) const {
    if (alerts_.find(acknowledged.alert) == nullptr) {
      return Problem{fmt::format("no open alert \"{}\"", acknowledged.alert), "/alert"};
    }
    return {};
  }
  Result<void> operator()(const Noted& noted) const {
    const auto* found = shop_.vehicle(noted.vehicle);
    if ((found == nullptr || !found->plan.valid) && noted.vehicle >= first_seq_) {
      return Problem{fmt::format("no vehicle {}", noted.vehicle), "/vehicle"};
    }
    return {};
  }
  // Whether there is anything to erase only the database knows.
  Result<void> operator()(const Forgotten& /*forgotten*/) const { return {}; }
  Result<void> operator()(const Planned& planned) const {
    for (const auto& piece : planned.pieces) {
      if (piece.panel.empty()) {
        return Problem{"which panel?", "/pieces"};
      }
      if (piece.part > piece.parts) {
        return Problem{fmt::format("{}: part {} of {}", piece.panel, piece.part, piece.parts), "/pieces"};
      }
      if (std::count(planned.pieces.begin(), planned.pieces.end(), piece) > 1) {
        return Problem{fmt::format("{} stands twice; several pieces on a panel are parts of it", piece.panel),
                       "/pieces"};
      }
    }
    return vehicle(planned.vehicle);
  }
  template <class OfSensor>
  requires requires(OfSensor detail) { detail.sensor; }
  Result<void> operator()(const OfSensor& /*detail*/) const { return sensors_.possible(event_); }
  Result<void> operator()(const CouponLaid& laid) const {
    if (auto wrong = film(laid.film); !wrong) {
      return wrong;
    }
    return laid.bay == outside ? Result<void>{Problem{"a coupon is weighed beside a bay's sensor", "/bay"}}
                               : bay(laid.bay);
  }
  Result<void> operator()(const CouponWeighed& weighed) const {
    const auto* laid = shop_.event(weighed.coupon);
    if (laid == nullptr || !std::holds_alternative<CouponLaid>(laid->detail) ||
        shop_.superseded(weighed.coupon)) {
      return Problem{fmt::format("no coupon {}", weighed.coupon), "/coupon"};
    }
    return after(laid->at, fmt::format("coupon {} was laid", weighed.coupon));
  }
  Result<void> operator()(const FilmMeasured& measured) const { return film(measured.film); }
  template <class OfPiece>  // EdgeOpened, EdgeWrapped, Trimmed, PieceRemoved, Refitted
  Result<void> operator()(const OfPiece& detail) const {
    return piece(detail.piece);
  }

 private:
  [[nodiscard]] Result<void> film(const std::string& key) const {
    const auto& films = shop_.catalogue().films;
    if (!key.empty() && offered(find_film(shop_.catalogue(), key))) {
      return {};
    }
    return Problem{fmt::format("no film \"{}\"; known: {}", key, known_keys(films)), "/film"};
  }

  [[nodiscard]] Result<void> after(Time earliest, const std::string& what) const {
    if (event_.at < earliest) {
      return Problem{fmt::format("{} at {}, which is later", what, to_rfc3339(earliest)), "/at"};
    }
    return {};
  }

  [[nodiscard]] Result<void> bay(const std::string& name) const {
    std::string known = outside;
    for (const auto& entry : setup_.bays) {
      if (entry.gone) {
        continue;
      }
      if (entry.name == name) {
        return {};
      }
      known += ", " + entry.name;
    }
    if (name != outside) {
      return Problem{fmt::format("no bay \"{}\"; known: {}", name, known), "/bay"};
    }
    return {};
  }

  // Still in the shop at the event's time.
  [[nodiscard]] Result<void> vehicle(VehicleId id) const {
    const auto* found = shop_.vehicle(id);
    if (found == nullptr || !found->plan.valid) {
      return Problem{fmt::format("no vehicle {}", id), "/vehicle"};
    }
    return in_shop(*found);
  }

  [[nodiscard]] Result<void> in_shop(const Vehicle& found) const {
    const auto& plan = found.plan;
    if (plan.released && event_.at >= *plan.released) {
      return Problem{fmt::format("{} was handed over at {}", plan.reference, to_rfc3339(*plan.released)),
                     "/vehicle"};
    }
    // A release that is entered twice is no late entry.
    if (plan.released && std::holds_alternative<Released>(event_.detail)) {
      return Problem{fmt::format("{} was handed over already", plan.reference), "/vehicle"};
    }
    return after(plan.arrived, plan.reference + " arrived");
  }

  // On the vehicle at the event's time.
  [[nodiscard]] Result<void> piece(PieceId id, const char* where = "/piece") const {
    const auto* found = shop_.piece(id);
    if (found == nullptr) {
      return Problem{fmt::format("no piece {}", id), where};
    }
    if (auto wrong = in_shop(*shop_.vehicle_of(id)); !wrong) {
      return wrong;
    }
    if (found->replaced_by) {
      return Problem{fmt::format("piece {} was replaced by piece {}", id, *found->replaced_by), where};
    }
    if (found->removed) {
      return Problem{fmt::format("piece {} was removed at {}", id, to_rfc3339(*found->removed)), where};
    }
    return after(found->laid, fmt::format("piece {} was laid", id));
  }

  const Event& event_;
  const Shop& shop_;
  const Setup& setup_;
  const OpenAlerts& alerts_;
  const SensorRegistry& sensors_;
  Seq first_seq_;
};

}  // namespace

Result<void> check_event(const Event& event, const Shop& shop, const Setup& setup, const OpenAlerts& alerts,
                         const SensorRegistry& sensors, Time now, Seq first_seq) {
  if (event.at > now + ahead_allowed) {
    return Problem{fmt::format("{} lies in the future", to_rfc3339(event.at)), "/at"};
  }
  return std::visit(Checker{event, shop, setup, alerts, sensors, first_seq}, event.detail);
}

Result<void> check_dates(const Event& event, Time now) {
  if (event.at < now - year) {
    return Problem{fmt::format("{} lies more than a year back; is the date right?", to_rfc3339(event.at)),
                   "/at"};
  }
  std::optional<Time> hand_over;
  if (const auto* in = std::get_if<VehicleIn>(&event.detail)) {
    hand_over = in->hand_over;
  } else if (const auto* agreed = std::get_if<HandOverAgreed>(&event.detail)) {
    hand_over = agreed->hand_over;
  }
  if (hand_over && *hand_over > now + year) {
    return Problem{fmt::format("{} lies more than a year ahead; is the date right?", to_rfc3339(*hand_over)),
                   "/hand_over"};
  }
  return {};
}

}  // namespace dryclock::engine
