#include "history/device_times.hpp"

#include <algorithm>
#include <vector>

namespace dryclock::history {
namespace {

constexpr std::size_t kept_of_a_sensor = 5;
constexpr std::size_t needed = 5;
constexpr Millis close_together{30'000};  // what a sensor sends within this counts as one message

}  // namespace

void DeviceTimes::hear(const Reading& reading, Millis boot_time) {
  if (!reading.source_time || reading.retained || reading.dup) {
    return;
  }
  auto& of_sensor = heard_[reading.sensor];
  const Time booted = reading.at - boot_time;
  if (of_sensor.empty()) {
    of_sensor.push_back({boot_time, booted, reading.at});
    return;
  }
  Heard& last = of_sensor.back();
  if (last.at == reading.at) {
    return;
  }
  if (boot_time - last.since < close_together) {
    last.booted = std::max(last.booted, booted);
    last.at = reading.at;
    return;
  }
  of_sensor.push_back({boot_time, booted, reading.at});
  if (of_sensor.size() > kept_of_a_sensor) {
    of_sensor.pop_front();
  }
}

std::optional<Time> DeviceTimes::booted() const {
  std::vector<Time> all;
  Millis first = Millis::max();
  Millis last = Millis::min();
  for (const auto& [sensor, of_sensor] : heard_) {
    for (const Heard& one : of_sensor) {
      all.push_back(one.booted);
      first = std::min(first, one.since);
      last = std::max(last, one.since);
    }
  }
  if (all.size() < needed || last - first < device_slack) {
    return std::nullopt;
  }
  const auto middle = all.begin() + static_cast<std::ptrdiff_t>(all.size() / 2);
  std::ranges::nth_element(all, middle);
  const Time median = *middle;
  const auto near = static_cast<std::size_t>(
      std::ranges::count_if(all, [&](Time one) { return std::chrono::abs(one - median) <= device_slack; }));
  return 3 * near >= 2 * all.size() ? std::optional{median} : std::nullopt;
}

}  // namespace dryclock::history
