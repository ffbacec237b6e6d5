// Patterns that tell of a sensor rather than of the air: two that disagree, one that swings, one whose check
// is due. A drift over weeks is not found here: it needs more past than the engine keeps
// (store/humidity_drift).
#pragma once

#include <deque>
#include <map>
#include <string>
#include <vector>

#include "domain/setup.hpp"
#include "engine/open_alerts.hpp"
#include "engine/screen.hpp"
#include "engine/sensor_registry.hpp"

namespace dryclock::engine {

// Two sensors in one bay may differ by what both are good for and by where they hang. Common practice, no
// source.
inline constexpr double temperature_tolerance_c = 0.5;
inline constexpr double apart_c = 1.0, apart_pct = 3.0;  // two places in one bay
inline constexpr Millis disagree_dwell = std::chrono::hours{1};
// A sensor in a heater's stream or by a door: its temperature turns again and again. Common practice, no
// source.
inline constexpr double swing_c = 2.0;
inline constexpr Millis swing_window = std::chrono::hours{2};
inline constexpr int swings_raise = 6, swings_clear = 2;

// How often a temperature has turned by more than swing_c.
class Turns {
 public:
  void add(Time at, double value);
  [[nodiscard]] int count(Time now) const;  // within swing_window

 private:
  std::deque<Time> turns_;
  double low_ = 0.0, high_ = 0.0;
  int direction_ = 0;
  bool begun_ = false;
};

class SensorRules {
 public:
  explicit SensorRules(const Setup& setup) : fresh_(setup.alerts.silent_after) {}
  void follow(const Setup& setup) { fresh_ = setup.alerts.silent_after; }

  // A reading that was believed.
  void observe(const Reading& reading);
  void judge(Time now, const SensorRegistry& registry, const Screen& screen, OpenAlerts& alerts,
             OpenAlerts::Rows& rows);

 private:
  struct Pair {  // in one bay, of one quantity
    std::string one, other, bay, subject;
    Quantity quantity = Quantity::air_temperature;
    double limit = 0.0;
  };
  void follow(Time now, const SensorRegistry& registry, OpenAlerts& alerts, OpenAlerts::Rows& rows);
  void judge_due(Time now, const SensorEntry& sensor, OpenAlerts& alerts, OpenAlerts::Rows& rows) const;
  void judge_pair(Time now, const Pair& pair, const Screen& screen, OpenAlerts& alerts,
                  OpenAlerts::Rows& rows) const;
  void judge_swings(Time now, const SensorEntry& sensor, const SensorRegistry& registry, OpenAlerts& alerts,
                    OpenAlerts::Rows& rows) const;
  [[nodiscard]] int turns(const std::string& sensor, Time now) const;

  Millis fresh_;
  std::map<std::string, Turns> turns_;
  std::uint64_t revision_ = 0;  // of the registry that pairs_ are of
  std::vector<Pair> pairs_;
};

}  // namespace dryclock::engine
