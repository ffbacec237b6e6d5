// Sensors in a closed box over a saturated salt solution: what they said there, whether it has settled, and
// how it compares.
#pragma once

#include <array>
#include <deque>
#include <map>
#include <string>

#include "domain/sensor_view.hpp"
#include "engine/sensor_registry.hpp"

namespace dryclock::engine {

// When what a sensor shows may be judged. deploy/sensors.md gives the same figures; common practice, no
// source.
inline constexpr Millis least_in_box = std::chrono::hours{6};
inline constexpr Millis steady_window = std::chrono::hours{1};
inline constexpr double steady_pct_per_hour = 0.3;
inline constexpr double steady_k_per_hour = 0.3;
inline constexpr std::size_t least_readings = 6;  // in the window
inline constexpr Millis check_every = std::chrono::hours{365 * 24};

class SaltBox {
 public:
  // A reading that its sensor made in the box.
  void add(const CheckRun& run, const Reading& reading);
  // Forgets what belongs to no run that is under way.
  void follow(const SensorRegistry& registry, Time now);

  // `sensor` has a run that is under way.
  [[nodiscard]] CheckProgress progress(const SensorEntry& sensor, Time now) const;

 private:
  struct Point {
    Time at;
    double value = 0.0;
  };
  using Points = std::deque<Point>;
  struct Box {
    Seq run = 0;
    Points humidity, temperature;
  };
  std::map<std::string, Box> boxes_;
};

}  // namespace dryclock::engine
