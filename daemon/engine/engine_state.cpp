#include "engine/engine_state.hpp"

#include <algorithm>
#include <utility>

#include "engine/facts.hpp"
#include "engine/minutes.hpp"

namespace dryclock::engine {
namespace {

// Air that no piece needs is kept as well, for the plots.
constexpr Millis air_kept = std::chrono::hours{8 * 24};

// A daemon that runs journals a tick every half minute. Where no row came for so long, it was off or its
// clock was wrong. Every dwell that the last rows began is over by then: the longest settings of bridge or
// silence (24 h) and dwell (4 h) together take less. After it a look at midnight is enough for what is due by
// a date (a check of a sensor, a hand-over), and nothing is due later than the yearly check.
constexpr Millis by_minutes = std::chrono::hours{48};
constexpr Millis by_days = std::chrono::hours{2 * 366 * 24};

}  // namespace

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
      std::min({t - air_kept, shop.oldest_needed().value_or(t), coupons.oldest_needed(t).value_or(t),
                plates.oldest_needed(t).value_or(t), bond_coupons.oldest_needed(t).value_or(t)});
  bays.close_minutes(t, needed, effects);
  shop.integrate(t, bays);
  plates.integrate(t, bays);
  summarised_at.reset();  // also where the minute was shown before it was over
  rules.judge({t, *started, bays, screen, shop}, alerts, effects.alerts);
  vehicle_rules.judge({t, bays, screen, shop, calls, outlooks}, alerts, effects.alerts);
  sensor_rules.judge(t, sensors, screen, alerts, effects.alerts);
}

void Engine::State::follow_calls(VehicleId vehicle, Time at, Effects& effects) {
  const auto milestones = effects.milestones.size();
  const auto releases = effects.releases.size();
  calls.follow(vehicle, shop, at, effects.milestones, effects.releases);
  const AlertContext context{alerts, effects.alerts, at};
  for (auto i = milestones; i < effects.milestones.size(); ++i) {
    announce(effects.milestones[i], shop, calls, context);
  }
  for (auto i = releases; i < effects.releases.size(); ++i) {
    announce(effects.releases[i], shop, context);
  }
}

std::shared_ptr<const models::ShopBelief> Engine::State::belief() {
  return lessons.belief(shop, plates, bays.bridge_after());
}

Known Engine::State::known() {
  return {shop, bays, calls, belief(), lessons.known_films(shop, plates)};
}

Told Engine::State::told(VehicleId vehicle) const {
  return {shop, calls, early_steps, outlooks.answer(vehicle)};
}

void Engine::State::apply_readings(const JournalRow& row, const Decoded& decoded, Effects& effects) {
  ++counters.messages;
  for (const auto& reading : decoded.readings) {
    BayAir* air = bays.find(reading.bay);
    const bool too_late = air != nullptr && air->is_past(reading.at);
    const SensorEntry* sensor = sensors.find(reading.sensor);
    const bool in_box = sensor != nullptr && sensor->in_box(reading.at);
    const Verdict verdict = screen.judge(reading, row.message.received_at, {too_late, in_box});
    if (in_box && verdict == Verdict::being_checked && !sensor->run->over) {
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
  vehicle_rules.follow(setup.alerts);
  sensor_rules.follow(setup);
  follow_sensors();
  const auto changed = shop.configure(setup, seq, bays);
  plates.rebuild(shop);
  if (!changed.vehicles.empty()) {
    alerts.raise(AlertRule::settings_changed, std::to_string(seq), changed_fact(changed),
                 usual_advice(AlertRule::settings_changed), now, effects.alerts);
  }
  for (const auto& [id, vehicle] : shop.vehicles()) {
    follow_calls(id, now, effects);
  }
}

void Engine::State::follow_sensors() {
  sensors.rebuild(shop.of_the_shop());
  screen.follow(sensors.mappings(), now);
  salts.follow(sensors, now);
  coupons.rebuild(shop.of_the_shop());
  bond_coupons.rebuild(shop.of_the_shop());
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
  if (EarlySteps::is_early(event, shop, calls)) {
    early_steps.note(event, shop, calls, *belief());
  }
  shop.apply(event, bays);
  if (is_shop_event(event.detail) || std::holds_alternative<Superseded>(event.detail)) {
    follow_sensors();
    plates.rebuild(shop);
  }
  follow_calls(shop.vehicle_of(event), event.entered, effects);
}

void Engine::State::apply_announced(Seq row, const Announced& announced, Effects& effects) {
  calls.add(row, announced);
  follow_calls(announced.vehicle, announced.at, effects);
}

// Where it is not known how much time lies between, nothing is joined across it.
void Engine::State::clock_moved(const Fact& what, std::optional<ClockFault> why, Effects& effects) {
  if (why != ClockFault::stepped && why != ClockFault::by_devices) {
    bays.clock_stepped();
    screen.clock_stepped();
  }
  alerts.clock_moved(what, now, effects.alerts);
}

void Engine::State::summarise_all() {
  if (summarised_at == floor_minute(now)) {
    return;
  }
  summarised_at = floor_minute(now);
  summaries.clear();
  for (const auto& [id, vehicle] : shop.vehicles()) {
    if (Shop::is_shown(vehicle, now)) {
      summaries.push_back(summarise(vehicle, bays, told(id), now));
    }
  }
  plate_views = plates.empty() ? std::vector<PlateView>{} : plates.views(now, belief());
}

}  // namespace dryclock::engine
