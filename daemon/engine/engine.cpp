#include "engine/engine.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "engine/check_deed.hpp"
#include "engine/check_event.hpp"
#include "engine/engine_state.hpp"
#include "engine/facts.hpp"
#include "engine/learned.hpp"
#include "engine/minutes.hpp"
#include "engine/waits.hpp"

namespace dryclock::engine {

Engine::Engine(Setup setup) : state_(std::make_unique<State>(std::move(setup))) {}
Engine::~Engine() = default;
Engine& Engine::operator=(Engine&&) noexcept = default;

void Engine::seed_alerts(std::vector<AlertSummary> open) {
  state_->alerts.seed(std::move(open));
}

void Engine::know_air(const std::vector<AirHour>& hours) {
  state_->bays.know(hours);
}

Allowed Engine::check(const Event& event) const {
  const auto& s = *state_;
  const Time now = std::max(s.now, event.entered);
  // At the door alone: a journal that holds such a time from before is replayed as it is.
  if (auto strange = check_dates(event, now); !strange) {
    return strange;
  }
  return check_event(event, s.shop, s.setup, s.alerts, s.sensors, now, s.first_seq);
}

Allowed Engine::check(const std::vector<Event>& deed) const {
  for (std::size_t i = 0; i < deed.size(); ++i) {
    if (const auto possible = check(deed[i]); !possible) {
      return Refusal{possible.error().what, "/events/" + std::to_string(i) + possible.error().where};
    }
  }
  return check_together(deed);
}

std::vector<Superseded> Engine::undo_of(const std::string& deed) const {
  std::vector<Superseded> out;
  for (const Event& event : events(0)) {
    if (event.deed == deed && !state_->shop.superseded(event.seq)) {
      out.push_back({event.seq});
    }
  }
  std::ranges::reverse(out);
  return out;
}

Effects Engine::apply(const JournalRow& row, const Decoded& decoded) {
  auto& s = *state_;
  Effects effects;
  effects.applied = s.applied = row.seq;
  if (row.kind == RowKind::shown) {  // nothing follows from it, not even that time passed
    return effects;
  }
  // Rows come in order: whatever was received before this one has been applied.
  s.move_to(row.message.received_at, row.message.received_at - Millis{1}, true, effects);
  s.first_seq = s.first_seq == 0 ? row.seq : s.first_seq;
  for (const auto& reject : decoded.rejects) {
    ++s.counters.rejects[static_cast<std::size_t>(reject.why)];
    effects.rejects.push_back({row.seq, reject});
  }
  if (row.kind == RowKind::message) {
    s.apply_readings(row, decoded, effects);
  } else if (row.kind == RowKind::event && decoded.event) {
    s.apply_event(*decoded.event, effects);
    s.summarised_at.reset();
  } else if (row.kind == RowKind::announced && decoded.announced) {
    s.apply_announced(row.seq, *decoded.announced, effects);
    s.summarised_at.reset();
  } else if (row.kind == RowKind::learnt && decoded.learnt) {
    s.lessons.add(row.seq, *decoded.learnt);
  } else if (row.kind == RowKind::configured && decoded.configured) {
    s.configure(row.seq, *decoded.configured, effects);
    s.summarised_at.reset();
  } else if (row.kind == RowKind::clock_step) {
    s.clock_moved({"alerts.clock-stepped", {say::text("step", row.message.payload)}}, {}, effects);
  } else if (decoded.redated) {
    s.clock_moved(clock_fact(*decoded.redated), decoded.redated->why, effects);
  }
  return effects;
}

Effects Engine::advance(Time now) {
  Effects effects;
  state_->move_to(now, now - settle, false, effects);
  return effects;
}

Effects Engine::raise(AlertRule rule, const std::string& subject, Fact what, Fact advice) {
  Effects effects;
  state_->alerts.raise(rule, subject, std::move(what), std::move(advice), state_->now, effects.alerts);
  return effects;
}

Effects Engine::clear(AlertRule rule, const std::string& subject) {
  Effects effects;
  state_->alerts.clear(rule, subject, state_->now, effects.alerts);
  return effects;
}

Board Engine::board() const {
  auto& s = *state_;
  s.summarise_all();
  Board board;
  board.now = s.now;
  board.applied = s.applied;
  for (const auto& bay : s.setup.bays) {
    if (!bay.gone || s.shop.stands_in(bay.name)) {
      board.bays.push_back(summarise(bay, s.bays, s.screen, s.now));
      board.bays.back().to_look = looks_asked_in(bay.name, s.plate_views);
    }
  }
  board.vehicles = s.summaries;
  board.alerts = s.alerts.open();
  board.counters = s.counters;
  board.waits = waits_of(board, s.shop);
  return board;
}

std::optional<VehicleSummary> Engine::vehicle(VehicleId id) const {
  const auto& s = *state_;
  const auto* vehicle = s.shop.vehicle(id);
  return vehicle == nullptr || !vehicle->plan.valid
             ? std::nullopt
             : std::optional{summarise(*vehicle, s.bays, s.told(id), s.now)};
}

std::vector<AirPoint> Engine::air(const std::string& bay, Time from, Time to) const {
  std::vector<AirPoint> out;
  if (const BayAir* air = state_->bays.find(bay)) {
    for (const auto& points : air->stretches()) {
      std::copy_if(points.begin(), points.end(), std::back_inserter(out),
                   [&](const AirPoint& p) { return p.at > from && p.at <= to; });
    }
  }
  return out;
}

std::vector<AirHourAhead> Engine::air_ahead(const std::string& bay) const {
  const auto known = state_->bays.forecast(bay, state_->now, looks_ahead);
  const auto setup = std::ranges::find(state_->setup.bays, bay, &BaySetup::name);
  if (!known || setup == state_->setup.bays.end()) {
    return {};
  }
  return hours_ahead(known->air, known->from, state_->now,
                     {setup->cold_below_c, setup->damp_above_pct, state_->setup.alerts.dew_margin_k});
}

Result<std::vector<HistoryPoint>> Engine::history(PieceId piece, Millis every,
                                                  const models::ShopBelief* known) const {
  const auto& s = *state_;
  const auto* plan = s.shop.piece(piece);
  if (plan == nullptr) {
    return Problem{fmt::format("no piece {}", piece), ""};
  }
  const auto now = state_->belief();
  return history_of(*plan, *s.shop.vehicle_of(piece), s.bays, known == nullptr ? *now : *known,
                    std::max(every, minute));
}

const Setup& Engine::setup() const {
  return state_->setup;
}

const Catalogue& Engine::catalogue() const {
  return state_->shop.catalogue();
}

void Engine::assume(const Configured& configured) {
  Effects nothing;
  state_->configure(0, configured, nothing);
}

const std::vector<SensorMapping>& Engine::mappings() const {
  return state_->sensors.mappings();
}

std::vector<SensorView> Engine::sensors() const {
  const auto& s = *state_;
  std::vector<SensorView> out;
  for (const auto& sensor : s.sensors.sensors()) {
    out.push_back(summarise(sensor, s.screen, s.salts, s.now));
  }
  return out;
}

std::vector<CouponView> Engine::coupons() const {
  return state_->coupons.coupons(state_->bays, state_->shop.catalogue());
}

std::vector<PlateView> Engine::plates() const {
  state_->summarise_all();
  return state_->plate_views;
}

void Engine::complete(Event& event) const {
  if (auto* seen = std::get_if<PlateSeen>(&event.detail)) {
    seen->course = state_->plates.course(*seen, event.at, state_->bays);
  }
}

std::vector<BondCouponView> Engine::bond_coupons() const {
  return state_->bond_coupons.coupons(state_->bays);
}

std::vector<MeasuredFilm> Engine::measured_films() const {
  return state_->shop.measures().all();
}

LearnedView Engine::learned() const {
  auto& s = *state_;
  return engine::learned(s.lessons, s.shop, s.plates, s.bays.bridge_after());
}

std::shared_ptr<const models::ShopBelief> Engine::belief() const {
  return state_->belief();
}

std::vector<Event> Engine::events(VehicleId vehicle) const {
  return state_->shop.events(vehicle);
}

const Event* Engine::event(Seq seq) const {
  return state_->shop.event(seq);
}

std::vector<OutlookTask> Engine::outlook_tasks() {
  return state_->outlooks.due(state_->known(), state_->now);
}

std::vector<Learnt> Engine::to_learn(Time whole_from) const {
  const auto& s = *state_;
  return s.lessons.due(s.shop, whole_from, s.bays.bridge_after());
}

std::optional<Announced> Engine::apply(const OutlookAnswer& answer) {
  auto& s = *state_;
  if (!s.outlooks.apply(answer, s.shop)) {
    return std::nullopt;
  }
  s.summarised_at.reset();
  auto news = s.calls.news(answer, s.shop.vehicle(answer.vehicle)->track.integrated());
  return news.empty() ? std::nullopt : std::optional{Announced{answer.vehicle, answer.at, std::move(news)}};
}

}  // namespace dryclock::engine
