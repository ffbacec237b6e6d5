#include "engine/shop.hpp"

#include <algorithm>
#include <utility>

#include "domain/vehicle_of.hpp"
#include "engine/minutes.hpp"
#include "engine/superseded.hpp"

namespace dryclock::engine {
namespace {

constexpr Millis shown_after_release = std::chrono::hours{24};

// The panel that stands for a vehicle as a whole: the one that lags most, for it stays below the dew point
// longest when the vehicle comes in cold.
models::PanelThermal slowest_panel(const Catalogue& catalogue) {
  models::PanelThermal slowest;
  for (const auto& panel : catalogue.panels) {
    const auto mass = [](const models::PanelThermal& t) { return t.heat_capacity + t.body_heat_capacity; };
    if (mass(panel.thermal) > mass(slowest)) {
      slowest = panel.thermal;
    }
  }
  return slowest;
}

// What `before` knew and `now` does not stays readable.
template <class Entry>
void keep_gone(std::vector<Entry>& now, const std::vector<Entry>& before) {
  for (const auto& entry : before) {
    if (std::ranges::find(now, entry.key, &Entry::key) == now.end()) {
      now.push_back(entry);
      now.back().gone = true;
    }
  }
}

std::shared_ptr<const Terms> terms_of(const Setup& setup, const Terms& before) {
  Terms terms{setup.catalogue, slowest_panel(setup.catalogue), setup.thresholds, setup.announce_level,
              setup.least_indoor};
  keep_gone(terms.catalogue.films, before.catalogue.films);
  keep_gone(terms.catalogue.solutions, before.catalogue.solutions);
  keep_gone(terms.catalogue.panels, before.catalogue.panels);
  return std::make_shared<const Terms>(std::move(terms));
}

}  // namespace

Shop::Shop(const Setup& setup) : terms_(terms_of(setup, {})) {}

bool Shop::is_open(const Vehicle& vehicle) {
  return vehicle.plan.valid && !vehicle.plan.released;
}

bool Shop::stands_in(const std::string& bay) const {
  return std::ranges::any_of(vehicles_, [&](const auto& entry) {
    return is_open(entry.second) && entry.second.plan.bay_now() == bay;
  });
}

bool Shop::is_shown(const Vehicle& vehicle, Time now) {
  return vehicle.plan.valid && (!vehicle.plan.released || now - *vehicle.plan.released < shown_after_release);
}

const Vehicle* Shop::vehicle(VehicleId id) const {
  const auto found = vehicles_.find(id);
  return found == vehicles_.end() ? nullptr : &found->second;
}

const Vehicle* Shop::vehicle_of(PieceId piece) const {
  const auto* laid = event(piece);
  return laid != nullptr && std::holds_alternative<Lay>(laid->detail) ? vehicle(owner_.at(piece)) : nullptr;
}

const PiecePlan* Shop::piece(PieceId id) const {
  const auto* owner = vehicle_of(id);
  if (owner == nullptr) {
    return nullptr;
  }
  const auto found = std::find_if(owner->plan.pieces.begin(), owner->plan.pieces.end(),
                                  [&](const auto& p) { return p.id == id; });
  return found == owner->plan.pieces.end() ? nullptr : &*found;
}

const Event* Shop::event(Seq seq) const {
  const auto found = events_.find(seq);
  return found == events_.end() ? nullptr : &found->second;
}

VehicleId Shop::vehicle_of(const Event& event) const {
  const auto id = dryclock::vehicle_of(event.detail, event.seq, [&](Seq seq) {
    const auto found = owner_.find(seq);
    return found == owner_.end() ? VehicleId{0} : found->second;
  });
  return id == event.seq || vehicles_.contains(id) ? id : 0;
}

void Shop::supersede_again() {
  std::vector<Correction> corrections;
  for (const auto& [seq, event] : events_) {
    if (const auto* correction = std::get_if<Superseded>(&event.detail)) {
      corrections.emplace_back(seq, correction->event);
    }
  }
  superseded_ = superseded_by(corrections);
}

std::vector<Event> Shop::standing(VehicleId vehicle) const {
  std::vector<Event> out;
  for (const auto& [seq, event] : events_) {
    if (owner_.at(seq) == vehicle && !superseded_.contains(seq)) {
      out.push_back(event);
    }
  }
  std::stable_sort(out.begin(), out.end(), [](const Event& a, const Event& b) { return a.at < b.at; });
  return out;
}

std::vector<Event> Shop::of_the_shop() const {
  std::vector<Event> out;
  for (const auto& [seq, event] : events_) {
    if (is_shop_event(event.detail) && !superseded_.contains(seq)) {
      out.push_back(event);
    }
  }
  return out;
}

// What an event changes in how film dries, and from when on.
struct Shop::Change {
  Time from;
  bool nothing = false;      // words only
  bool vehicle = false;      // everything on it
  std::set<PieceId> pieces;  // else these alone
};

void Shop::add_change(const Event& event, Change& change) const {
  change.from = std::min(change.from, event.at);
  std::visit(
      [&](const auto& detail) {
        using D = std::decay_t<decltype(detail)>;
        if constexpr (std::is_same_v<D, Lay>) {
          change.pieces.insert(event.seq);
          if (detail.replaces) {
            change.pieces.insert(*detail.replaces);
          }
        } else if constexpr (std::is_same_v<D, Superseded>) {
          // A chain of corrections reaches back to the first of them.
          if (const auto* target = this->event(detail.event)) {
            add_change(*target, change);
          }
        } else if constexpr (std::is_same_v<D, HandOverAgreed> || std::is_same_v<D, Rechecked> ||
                             std::is_same_v<D, AlertAcknowledged> || std::is_same_v<D, Noted> ||
                             std::is_same_v<D, Forgotten> || std::is_same_v<D, Planned> ||
                             std::is_same_v<D, NotNeeded> || is_shop_event_kind<D>) {
          change.nothing = true;
        } else if constexpr (std::is_same_v<D, LampSwitched>) {
          change.vehicle = !detail.piece;
          change.pieces.insert(detail.piece.value_or(0));
        } else if constexpr (requires { detail.piece; }) {
          change.pieces.insert(detail.piece);
        } else {
          change.vehicle = true;
        }
      },
      event.detail);
}

// What a lay leaves to the catalogue's first entries is theirs of now, whatever stands there later.
Event Shop::complete(Event event) const {
  const auto fill = [](std::string& key, const auto& entries) {
    if (key.empty() && !entries.empty()) {
      key = entries.front().key;
    }
  };
  if (auto* lay = std::get_if<Lay>(&event.detail)) {
    fill(lay->film, terms_->catalogue.films);
    fill(lay->solution, terms_->catalogue.solutions);
  } else if (auto* plate = std::get_if<PlateLaid>(&event.detail)) {
    fill(plate->solution, terms_->catalogue.solutions);
  }
  return event;
}

void Shop::apply(const Event& given, const Bays& bays) {
  const Event event = complete(given);
  const VehicleId id = vehicle_of(event);
  events_[event.seq] = event;
  ++events_taken_;
  owner_[event.seq] = id;
  if (std::holds_alternative<Superseded>(event.detail)) {
    supersede_again();
  }
  if (id == 0) {
    if (std::holds_alternative<FilmMeasured>(event.detail) ||
        std::holds_alternative<BondMeasured>(event.detail) ||
        std::holds_alternative<Superseded>(event.detail)) {
      measure_again(event.seq, bays);
    }
    if (std::holds_alternative<LearnAnew>(event.detail) || std::holds_alternative<Superseded>(event.detail)) {
      learn_anew_again();
    }
    return;
  }
  auto& vehicle = vehicles_[id];
  if (!vehicle.terms) {
    vehicle.terms = terms_;
    vehicle.track = VehicleTrack{terms_->slowest_panel};
  }
  Change change{event.at, false, false, {}};
  add_change(event, change);
  vehicle.plan = make_plan(id, standing(id), vehicle.terms->catalogue, measures_);
  if (is_open(vehicle) && vehicle.terms != terms_) {  // a release was taken back: today's terms again
    vehicle.terms = terms_;
    vehicle.plan = make_plan(id, standing(id), terms_->catalogue, measures_);
    change = {vehicle.plan.from, false, true, {}};
  }
  vehicle.revision = event.seq;
  integrate_again(vehicle, change, bays);
}

namespace {

// What makes the piece's figures others than `then`.
void name_changes(const PiecePlan& piece, const models::LaidSpec& then, Shop::Changed& changed) {
  const auto& now = piece.spec;
  if (now.stack != then.stack) {
    changed.films.insert(piece.lay.film);
  }
  if (now.solution != then.solution) {
    changed.solutions.insert(piece.lay.solution);
  }
  const bool zones =
      !std::ranges::equal(now.zones, then.zones, {}, &models::LaidZone::kind, &models::LaidZone::kind);
  if (now.panel != then.panel || zones) {
    changed.panels.insert(piece.lay.panel);
  }
  changed.water |= !zones && now.zones != then.zones;
}

// What counts as ready, of a piece or of the vehicle.
bool other_readiness(const Terms& a, const Terms& b) {
  return a.thresholds != b.thresholds || a.announce_level != b.announce_level ||
         a.least_indoor != b.least_indoor;
}

}  // namespace

Shop::Changed Shop::configure(const Setup& setup, Seq seq, const Bays& bays) {
  Changed changed;
  const auto before = std::exchange(terms_, terms_of(setup, *terms_));
  for (auto& [id, vehicle] : vehicles_) {
    if (!is_open(vehicle)) {
      continue;
    }
    vehicle.terms = terms_;
    auto plan = make_plan(id, standing(id), terms_->catalogue, measures_);
    const bool readiness = other_readiness(*terms_, *before);
    Change change{Time::max(), false, terms_->slowest_panel != before->slowest_panel, {}};
    if (change.vehicle) {
      change.from = plan.from;
    }
    std::size_t still_on = 0;
    bool steps = false;  // which are done
    for (std::size_t i = 0; i < plan.pieces.size(); ++i) {
      const auto& now = plan.pieces[i];
      const auto& then = vehicle.plan.pieces[i];
      if (now.spec != then.spec) {
        change.pieces.insert(now.id);
        change.from = std::min(change.from, now.laid);
      }
      steps |= now.needed != then.needed;
      if (!now.ended && (change.vehicle || readiness || now.spec != then.spec)) {
        ++still_on;
        name_changes(now, then.spec, changed);
      }
    }
    if (still_on > 0) {
      changed.readiness |= readiness;
      changed.slowest_panel |= change.vehicle;
      changed.pieces += still_on;
      changed.vehicles.push_back(plan.reference);
    }
    vehicle.plan = std::move(plan);
    if (change.vehicle || readiness || steps || !change.pieces.empty()) {
      vehicle.revision = seq;
    }
    if (change.vehicle || !change.pieces.empty()) {
      integrate_again(vehicle, change, bays);
    }
  }
  return changed;
}

// A film was measured, or a measurement taken back: pieces of it that were laid since hold another stack.
void Shop::measure_again(Seq seq, const Bays& bays) {
  const auto before = measures_.all().size();
  measures_.rebuild(of_the_shop());
  if (before == measures_.all().size()) {
    return;
  }
  for (auto& [id, vehicle] : vehicles_) {
    if (!is_open(vehicle)) {
      continue;
    }
    auto plan = make_plan(id, standing(id), vehicle.terms->catalogue, measures_);
    Change change{Time::max(), false, false, {}};
    for (std::size_t i = 0; i < plan.pieces.size(); ++i) {
      const auto& now = plan.pieces[i];
      const auto& then = vehicle.plan.pieces[i];
      if (resistance_of(now.spec.stack) != resistance_of(then.spec.stack) ||
          now.spec.stack.ln_resistance_spread != then.spec.stack.ln_resistance_spread) {
        change.pieces.insert(now.id);
        change.from = std::min(change.from, now.laid);
      }
    }
    if (!change.pieces.empty()) {
      vehicle.plan = std::move(plan);
      vehicle.revision = seq;
      integrate_again(vehicle, change, bays);
    }
  }
}

void Shop::learn_anew_again() {
  learns_since_ = Time::min();
  for (const auto& event : of_the_shop()) {
    if (const auto* anew = std::get_if<LearnAnew>(&event.detail)) {
      learns_since_ = std::max(learns_since_, anew->since);
    }
  }
}

void Shop::integrate_again(Vehicle& vehicle, const Change& change, const Bays& bays) {
  const auto integrated = vehicle.track.integrated();
  if (change.nothing || !integrated || ceil_minute(change.from) > *integrated) {
    return;
  }
  if (!change.vehicle) {
    vehicle.track.refold(vehicle.plan, bays, change.pieces);
    return;
  }
  vehicle.track = VehicleTrack{vehicle.terms->slowest_panel};
  if (vehicle.plan.valid) {
    vehicle.track.integrate(vehicle.plan, bays, *integrated, VehicleTrack::Beyond::wait);
  }
}

void Shop::integrate(Time until, const Bays& bays) {
  for (auto& [id, vehicle] : vehicles_) {
    if (vehicle.plan.valid) {
      vehicle.track.integrate(vehicle.plan, bays, until, VehicleTrack::Beyond::wait);
    }
  }
}

std::vector<Event> Shop::events(VehicleId vehicle) const {
  std::vector<Event> out;
  for (const auto& [seq, event] : events_) {
    if (vehicle == 0 || owner_.at(seq) == vehicle) {
      out.push_back(event);
    }
  }
  return out;
}

std::optional<Time> Shop::oldest_needed() const {
  std::optional<Time> oldest;
  for (const auto& [id, vehicle] : vehicles_) {
    if (is_open(vehicle) && (!oldest || vehicle.plan.from < *oldest)) {
      oldest = vehicle.plan.from;
    }
  }
  return oldest;
}

}  // namespace dryclock::engine
