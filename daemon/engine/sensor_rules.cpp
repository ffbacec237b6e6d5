#include "engine/sensor_rules.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "domain/names.hpp"
#include "engine/salt_box.hpp"

namespace dryclock::engine {
namespace {

constexpr std::array compared{Quantity::air_temperature, Quantity::relative_humidity};
// The alert is over when they agree within this share of the limit.
constexpr double agree_again = 0.7;

std::string pair_subject(const SensorEntry& one, const SensorEntry& other, Quantity quantity) {
  return fmt::format("{}+{}:{}", one.name, other.name, name_of(quantity));
}

double limit_of(const SensorEntry& one, const SensorEntry& other, Quantity quantity) {
  return quantity == Quantity::relative_humidity ? one.tolerance_pct + other.tolerance_pct + apart_pct
                                                 : 2.0 * temperature_tolerance_c + apart_c;
}

}  // namespace

void Turns::add(Time at, double value) {
  if (!begun_) {
    begun_ = true;
    low_ = high_ = value;
    return;
  }
  // From the last turn on, the furthest in the direction it goes.
  if (direction_ >= 0) {
    high_ = std::max(high_, value);
    if (direction_ == 0) {
      low_ = std::min(low_, value);
    }
    if (high_ - value >= swing_c) {
      if (direction_ > 0) {  // the first way it goes is no turn
        turns_.push_back(at);
      }
      direction_ = -1;
      low_ = value;
    } else if (direction_ == 0 && value - low_ >= swing_c) {
      direction_ = 1;
    }
  } else {
    low_ = std::min(low_, value);
    if (value - low_ >= swing_c) {
      turns_.push_back(at);
      direction_ = 1;
      high_ = value;
    }
  }
  while (!turns_.empty() && turns_.front() <= at - swing_window) {
    turns_.pop_front();
  }
}

int Turns::count(Time now) const {
  return static_cast<int>(
      std::ranges::count_if(turns_, [&](Time at) { return at > now - swing_window && at <= now; }));
}

void SensorRules::observe(const Reading& reading) {
  if (reading.quantity == Quantity::air_temperature) {
    turns_[reading.sensor].add(reading.at, reading.value);
  }
}

int SensorRules::turns(const std::string& sensor, Time now) const {
  const auto found = turns_.find(sensor);
  return found == turns_.end() ? 0 : found->second.count(now);
}

// The sensors are others than before: who is compared with whom, and what is over with those that are gone.
void SensorRules::follow(Time now, const SensorRegistry& registry, OpenAlerts& alerts,
                         OpenAlerts::Rows& rows) {
  revision_ = registry.revision();
  pairs_.clear();
  const auto& sensors = registry.sensors();
  for (std::size_t i = 0; i < sensors.size(); ++i) {
    for (std::size_t k = i + 1; k < sensors.size(); ++k) {
      for (const auto quantity : compared) {
        const auto &one = sensors[i], &other = sensors[k];
        if (one.bay == other.bay && one.mapping(quantity) != nullptr && other.mapping(quantity) != nullptr) {
          pairs_.push_back({one.name, other.name, one.bay, pair_subject(one, other, quantity), quantity,
                            limit_of(one, other, quantity)});
        }
      }
    }
  }
  for (const auto& subject : alerts.subjects(AlertRule::sensors_disagree)) {
    if (std::ranges::find(pairs_, subject, &Pair::subject) == pairs_.end()) {
      alerts.clear(AlertRule::sensors_disagree, subject, now, rows);
    }
  }
  for (const auto rule : {AlertRule::sensor_check_due, AlertRule::sensor_swings, AlertRule::sensor_silent,
                          AlertRule::sensor_stuck, AlertRule::sensor_implausible, AlertRule::sensor_skewed}) {
    for (const auto& subject : alerts.subjects(rule)) {
      if (registry.find(subject) == nullptr) {
        alerts.clear(rule, subject, now, rows);
      }
    }
  }
  std::erase_if(turns_, [&](const auto& entry) { return registry.find(entry.first) == nullptr; });
}

void SensorRules::judge(Time now, const SensorRegistry& registry, const Screen& screen, OpenAlerts& alerts,
                        OpenAlerts::Rows& rows) {
  if (revision_ != registry.revision()) {
    follow(now, registry, alerts, rows);
  }
  for (const auto& sensor : registry.sensors()) {
    judge_due(now, sensor, alerts, rows);
    judge_swings(now, sensor, registry, alerts, rows);
  }
  for (const auto& pair : pairs_) {
    judge_pair(now, pair, screen, alerts, rows);
  }
}

// One that was never checked is not nagged about: the list of sensors says so.
void SensorRules::judge_due(Time now, const SensorEntry& sensor, OpenAlerts& alerts,
                            OpenAlerts::Rows& rows) const {
  const bool due = !sensor.checks.empty() && sensor.checks.back().at + check_every <= now &&
                   sensor.checking(now) == nullptr;
  const auto condition = due ? Condition::holds : Condition::over;
  if (alerts.follow(AlertRule::sensor_check_due, sensor.name, condition, now, at_once, rows)) {
    alerts.raise(
        AlertRule::sensor_check_due, sensor.name,
        {"alerts.sensor-check-due", {say::text("sensor", sensor.name), say::text("bay", sensor.bay)}},
        {"advice.sensor-check-due", {say::text("sensor", sensor.name)}}, now, rows);
  }
}

void SensorRules::judge_pair(Time now, const Pair& pair, const Screen& screen, OpenAlerts& alerts,
                             OpenAlerts::Rows& rows) const {
  const auto shown = [&](const std::string& sensor) -> std::optional<double> {
    const auto* known = screen.find(sensor, pair.quantity);
    const bool counts = known != nullptr && known->value && known->at && known->last_verdict == Verdict::ok &&
                        now - *known->at <= fresh_;
    return counts ? known->value : std::nullopt;
  };
  const auto a = shown(pair.one);
  const auto b = shown(pair.other);
  const double apart = a && b ? std::abs(*a - *b) : 0.0;
  const auto condition = !a || !b                            ? Condition::unknown
                         : apart > pair.limit                ? Condition::holds
                         : apart <= agree_again * pair.limit ? Condition::over
                                                             : Condition::between;
  if (!alerts.follow(AlertRule::sensors_disagree, pair.subject, condition, now, disagree_dwell, rows)) {
    return;
  }
  const bool humidity = pair.quantity == Quantity::relative_humidity;
  const auto value = [&](std::string_view name, double number) {
    return say::number(name, traits(pair.quantity).measure, rounded_to(number, 1));
  };
  alerts.raise(AlertRule::sensors_disagree, pair.subject,
               {"alerts.sensors-disagree",
                {say::text("bay", pair.bay), say::text("one", pair.one), value("a", *a),
                 say::text("other", pair.other), value("b", *b), say::span("for", disagree_dwell),
                 humidity ? say::humidity("limit", pair.limit) : say::kelvin("limit", pair.limit)}},
               {humidity ? "advice.sensors-disagree-humidity" : "advice.sensors-disagree-temperature"}, now,
               rows);
}

// Where the bay's other sensors turn as often, it is the bay's air that swings.
void SensorRules::judge_swings(Time now, const SensorEntry& sensor, const SensorRegistry& registry,
                               OpenAlerts& alerts, OpenAlerts::Rows& rows) const {
  const int own = turns(sensor.name, now);
  int least_of_others = own;
  bool alone = true;
  for (const auto& other : registry.sensors()) {
    if (other.bay == sensor.bay && other.name != sensor.name &&
        other.mapping(Quantity::air_temperature) != nullptr) {
      alone = false;
      least_of_others = std::min(least_of_others, turns(other.name, now));
    }
  }
  const bool beyond_the_bay = alone || 2 * least_of_others <= own;
  const auto condition = own >= swings_raise && beyond_the_bay    ? Condition::holds
                         : own <= swings_clear || !beyond_the_bay ? Condition::over
                                                                  : Condition::between;
  if (alerts.follow(AlertRule::sensor_swings, sensor.name, condition, now, at_once, rows)) {
    alerts.raise(AlertRule::sensor_swings, sensor.name,
                 {"alerts.sensor-swings",
                  {say::text("sensor", sensor.name), say::text("bay", sensor.bay), say::count("times", own),
                   say::kelvin("swing", swing_c), say::span("within", swing_window),
                   say::text("alone", alone ? "yes" : "no")}},
                 usual_advice(AlertRule::sensor_swings), now, rows);
  }
}

}  // namespace dryclock::engine
