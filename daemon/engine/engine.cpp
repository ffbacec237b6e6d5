#include "engine/engine.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <utility>

#include "engine/alert_rules.hpp"
#include "engine/bays.hpp"
#include "engine/check_event.hpp"
#include "engine/coupon_registry.hpp"
#include "engine/facts.hpp"
#include "engine/minutes.hpp"
#include "engine/open_alerts.hpp"
#include "engine/outlook_cache.hpp"
#include "engine/salt_box.hpp"
#include "engine/screen.hpp"
#include "engine/sensor_registry.hpp"
#include "engine/sensor_rules.hpp"
#include "engine/shop.hpp"
#include "engine/summaries.hpp"

namespace dryclock::engine {
namespace {

// Air that no piece needs is kept as well: a week for the outlook's daily rhythm, and for the plots.
constexpr Millis air_kept = std::chrono::hours{8 * 24};

// A daemon that runs journals a tick every half minute. Where no row came for so long, it was off or its
// clock was wrong. Every dwell that the last rows began is over by then: the longest settings of bridge or
// silence (24 h) and dwell (4 h) together take less. After it a look at midnight is enough for what is due by
// a date (a check of a sensor, a hand-over), and nothing is due later than the yearly check.
constexpr Millis by_minutes = std::chrono::hours{48};
constexpr Millis by_days = std::chrono::hours{2 * 366 * 24};

}  // namespace

struct Engine::State {
  explicit State(Setup s)
      : setup(std::move(s)),
        screen(setup.screen, setup.mappings),
        bays(setup),
        sensors(setup),
        shop(setup),
        rules(setup),
        sensor_rules(setup) {}

  // Rows up to and including `complete` have all been applied. `row`: one comes at t.
  void move_to(Time t, Time complete, bool row, Effects& effects);
  void close_until(Time t, Effects& effects);
  void close_minute(Time t, Effects& effects);
  void apply_readings(const JournalRow& row, const Decoded& decoded, Effects& effects);
  void apply_event(const Event& event, Effects& effects);
  void configure(Seq seq, const Configured& configured, Effects& effects);
  void follow_sensors();
  void clock_moved(const Fact& what, std::optional<ClockFault> why, Effects& effects);
  void report(Time at, Effects& effects);
  const std::vector<VehicleSummary>& vehicle_summaries();

  Setup setup;
  Screen screen;
  Bays bays;
  SensorRegistry sensors;
  SaltBox salts;
  CouponRegistry coupons;
  Shop shop;
  OpenAlerts alerts;
  AlertRules rules;
  SensorRules sensor_rules;
  OutlookCache outlooks;
  Counters counters;

  std::optional<Time> started;  // first moment that is known
  Time now;
  Time closed;      // last minute that was closed
  Time newest_row;  // or the start
  Seq applied = 0;
  Seq first_seq = 0;
  std::map<Seq, std::string> refused;  // events of old journals that were kept and not applied

  // Summaries as of a minute and an event; views are the dear part of a board.
  std::optional<Time> summarised_at;
  std::vector<VehicleSummary> summaries;
};

// Which minutes are closed is a function of the rows: all until by_minutes after the newest, then those at
// midnight until by_days, then none until the next row, which jumps to the last minute before it. There,
// whatever would have come about in between does.
void Engine::State::move_to(Time t, Time complete, bool row, Effects& effects) {
  if (!started) {
    started = t;
    now = t;
    closed = ceil_minute(t) - minute;
    newest_row = t;
  }
  now = std::max(now, t);
  close_until(std::min(complete, newest_row + by_days), effects);
  if (row) {
    newest_row = std::max(newest_row, t);
    if (closed < floor_minute(complete)) {
      closed = floor_minute(complete);
      close_minute(closed, effects);
    }
  }
}

void Engine::State::close_until(Time t, Effects& effects) {
  const auto next = [&]() -> Time {
    return closed + minute <= newest_row + by_minutes
               ? closed + minute
               : std::chrono::floor<std::chrono::days>(closed) + std::chrono::days{1};
  };
  while (next() <= t) {
    closed = next();
    close_minute(closed, effects);
  }
}

// All that time alone drives, in one place and one order: air, film, announcements, alerts.
void Engine::State::close_minute(Time t, Effects& effects) {
  const Time needed =
      std::min({t - air_kept, shop.oldest_needed().value_or(t), coupons.oldest_needed(t).value_or(t)});
  for (auto& [name, air] : bays.all()) {
    air.close_minutes(t, effects.gaps);
    air.forget_before(needed);
  }
  shop.integrate(t, bays);
  summarised_at.reset();  // also where the minute was shown before it was over
  report(t, effects);
  rules.judge({t, *started, bays, screen, shop, outlooks}, alerts, effects.alerts);
  sensor_rules.judge(t, sensors, screen, alerts, effects.alerts);
}

void Engine::State::report(Time at, Effects& effects) {
  const auto milestones = effects.milestones.size();
  const auto releases = effects.releases.size();
  shop.report(effects.milestones, effects.releases);
  for (auto i = milestones; i < effects.milestones.size(); ++i) {
    rules.announce(effects.milestones[i], shop, at, alerts, effects.alerts);
  }
  for (auto i = releases; i < effects.releases.size(); ++i) {
    rules.announce(effects.releases[i], shop, at, alerts, effects.alerts);
  }
}

void Engine::State::apply_readings(const JournalRow& row, const Decoded& decoded, Effects& effects) {
  ++counters.messages;
  for (const auto& reading : decoded.readings) {
    BayAir* air = bays.find(reading.bay);
    const bool too_late = air != nullptr && air->is_past(reading.at);
    const SensorEntry* sensor = sensors.find(reading.sensor);
    const bool in_box = sensor != nullptr && sensor->in_box(reading.at);
    const Verdict verdict = screen.judge(reading, row.message.received_at, {too_late, in_box});
    if (verdict == Verdict::being_checked && !sensor->run->over) {
      salts.add(*sensor->run, reading);
    }
    if (verdict == Verdict::ok) {
      sensor_rules.observe(reading);
    }
    if (verdict == Verdict::ok && air != nullptr) {
      air->add(reading);
    }
    ++counters.readings;
    ++counters.verdict[static_cast<std::size_t>(verdict)];
    effects.readings.push_back({row.seq, reading, verdict});
  }
}

// Settings count from this row on. Vehicles that have left keep those they left with.
void Engine::State::configure(Seq seq, const Configured& configured, Effects& effects) {
  auto bays_before = std::exchange(setup, configured.setup).bays;
  for (auto& bay : bays_before) {
    if (std::ranges::find(setup.bays, bay.name, &BaySetup::name) == setup.bays.end()) {
      bay.gone = true;
      setup.bays.push_back(std::move(bay));
    }
  }
  for (const auto& one : configured.refused) {
    refused.emplace(one.row, one.why);
  }
  bays.follow(setup);
  screen.follow(setup.screen);
  sensors.follow(setup);
  rules.follow(setup);
  sensor_rules.follow(setup);
  follow_sensors();
  const auto changed = shop.configure(setup, seq, bays);
  if (!changed.vehicles.empty()) {
    alerts.raise(AlertRule::settings_changed, std::to_string(seq), changed_fact(changed),
                 usual_advice(AlertRule::settings_changed), now, effects.alerts);
  }
  report(now, effects);
}

void Engine::State::follow_sensors() {
  sensors.rebuild(shop.of_the_shop());
  screen.follow(sensors.mappings(), now);
  salts.follow(sensors, now);
  coupons.rebuild(shop.of_the_shop());
}

void Engine::State::apply_event(const Event& event, Effects& effects) {
  if (const auto found = refused.find(event.seq); found != refused.end()) {
    ++counters.rejects[static_cast<std::size_t>(RejectReason::bad_event)];
    effects.rejects.push_back({event.seq, {RejectReason::bad_event, found->second}});
    return;
  }
  ++counters.events;
  if (const auto* acknowledged = std::get_if<AlertAcknowledged>(&event.detail)) {
    alerts.acknowledge(acknowledged->alert, event.at, effects.alerts);
  }
  shop.apply(event, bays);
  if (is_shop_event(event.detail) || std::holds_alternative<Superseded>(event.detail)) {
    follow_sensors();
  }
  report(now, effects);
}

// Where it is not known how much time lies between, nothing is joined across it.
void Engine::State::clock_moved(const Fact& what, std::optional<ClockFault> why, Effects& effects) {
  if (why != ClockFault::stepped && why != ClockFault::by_devices) {
    bays.clock_stepped();
    screen.clock_stepped();
  }
  alerts.clock_moved(what, now, effects.alerts);
}

const std::vector<VehicleSummary>& Engine::State::vehicle_summaries() {
  if (summarised_at != floor_minute(now)) {
    summarised_at = floor_minute(now);
    summaries.clear();
    for (const auto& [id, vehicle] : shop.vehicles()) {
      if (Shop::is_shown(vehicle, now)) {
        summaries.push_back(summarise(vehicle, bays, outlooks.answer(id), now));
      }
    }
  }
  return summaries;
}

Engine::Engine(Setup setup) : state_(std::make_unique<State>(std::move(setup))) {}
Engine::~Engine() = default;
Engine& Engine::operator=(Engine&&) noexcept = default;

void Engine::seed_alerts(std::vector<AlertSummary> open) {
  state_->alerts.seed(std::move(open));
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
  Board board;
  board.now = s.now;
  board.applied = s.applied;
  for (const auto& bay : s.setup.bays) {
    if (!bay.gone || s.shop.stands_in(bay.name)) {
      board.bays.push_back(summarise(bay, s.bays, s.screen, s.now));
    }
  }
  board.vehicles = s.vehicle_summaries();
  board.alerts = s.alerts.open();
  board.counters = s.counters;
  return board;
}

std::optional<VehicleSummary> Engine::vehicle(VehicleId id) const {
  const auto& s = *state_;
  const auto* vehicle = s.shop.vehicle(id);
  return vehicle == nullptr || !vehicle->plan.valid
             ? std::nullopt
             : std::optional{summarise(*vehicle, s.bays, s.outlooks.answer(id), s.now)};
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

Result<std::vector<HistoryPoint>> Engine::history(PieceId piece, Millis every) const {
  const auto& s = *state_;
  const auto* plan = s.shop.piece(piece);
  if (plan == nullptr) {
    return Problem{fmt::format("no piece {}", piece), ""};
  }
  return history_of(*plan, *s.shop.vehicle_of(piece), s.bays, std::max(every, minute));
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

std::vector<MeasuredFilm> Engine::measured_films() const {
  return state_->shop.measures().all();
}

std::vector<Event> Engine::events(VehicleId vehicle) const {
  return state_->shop.events(vehicle);
}

std::vector<OutlookTask> Engine::outlook_tasks() {
  return state_->outlooks.due(state_->shop, state_->bays, state_->now);
}

void Engine::apply(const OutlookAnswer& answer) {
  state_->outlooks.apply(answer, state_->shop);
  state_->summarised_at.reset();
}

}  // namespace dryclock::engine
