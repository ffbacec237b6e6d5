// Stage 4: what each reading is worth, told by what the same sensor sent before. A value is never altered and
// a reading never dropped: the verdict decides whether it reaches the model.
#pragma once

#include <map>
#include <set>
#include <string>
#include <vector>

#include "domain/setup.hpp"
#include "domain/types.hpp"
#include "domain/view.hpp"

namespace dryclock::engine {

class Screen {
 public:
  Screen(const ScreenLimits& limits, const std::vector<SensorMapping>& mappings);

  // The sensors are these now: one that is new is known from `now` on, one that is gone is forgotten.
  void follow(const std::vector<SensorMapping>& mappings, Time now);
  void follow(const ScreenLimits& limits) { limits_ = limits; }

  struct Place {
    bool too_late = false;  // the bay has already been integrated beyond the reading's time
    bool in_box = false;    // it lay over a salt solution then
  };
  [[nodiscard]] Verdict judge(const Reading& reading, Time received_at, Place place);

  // Times before and after it cannot be compared: nothing is stuck or has jumped across it.
  void clock_stepped();

  // In order of sensor and quantity.
  [[nodiscard]] std::vector<SensorSummary> sensors(const std::string& bay) const;

  // Whether a sensor in that bay reads it, silent or not.
  [[nodiscard]] bool reads(const std::string& bay, Quantity quantity) const;

  // Null where it does not read that.
  [[nodiscard]] const SensorSummary* find(const std::string& sensor, Quantity quantity) const;

  // What is known of one sensor, all its quantities together.
  struct Sensor {
    std::string name, bay;
    Time since{};               // set up; of the configuration: unknown
    std::optional<Time> heard;  // last message that was not a retained one
    bool stuck = false, implausible = false, skewed = false;
    double odd_value = 0.0;  // the stuck or implausible one
    Quantity odd_quantity = Quantity::air_temperature;
  };
  [[nodiscard]] const std::map<std::string, Sensor>& by_name() const { return sensors_; }

 private:
  // One quantity of one sensor. Finite: only the newest source times are remembered.
  struct Stream {
    SensorSummary summary;
    std::set<Time> source_times;
    std::optional<Time> last_at;  // of the last accepted reading
    double last_value = 0.0;
    std::optional<double> last_raw;  // of the last reading of any kind that was new
    Time same_since, last_new;
    int jumps = 0;  // readings in a row that jumped away from the last accepted, near each other
    Time jump_at;
    double jump_value = 0.0;
  };

  [[nodiscard]] Verdict first_look(Stream& stream, const Reading& reading, Time received_at, Place place);
  [[nodiscard]] bool plausible(const Reading& reading) const;
  [[nodiscard]] bool reachable(const Reading& to, Time from_at, double from_value) const;
  [[nodiscard]] bool is_spike(Stream& stream, const Reading& reading) const;
  [[nodiscard]] bool is_stuck(const Stream& stream, const Reading& reading) const;
  [[nodiscard]] bool rests(const Stream& stream, double raw, Time at, Millis for_long) const;
  void remember(Stream& stream, const Reading& reading, Verdict verdict);
  void note_condition(const std::string& sensor);

  ScreenLimits limits_;
  std::map<std::pair<std::string, Quantity>, Stream> streams_;
  std::map<std::string, Sensor> sensors_;
};

}  // namespace dryclock::engine
