// Notices that the wall clock was set: wall time minus steady time moved.
#pragma once

#include <chrono>
#include <optional>

#include "base/time.hpp"

namespace dryclock::app {

class ClockWatch {
 public:
  using Steady = std::chrono::steady_clock::time_point;

  // How far the wall clock moved against steady time since the last call, where that is more than 10 s.
  // Suspend counts as a step: CLOCK_MONOTONIC stands still while the machine sleeps, and so did the readings.
  [[nodiscard]] std::optional<Millis> look(Time wall, Steady steady) {
    const auto difference = wall.time_since_epoch() - std::chrono::floor<Millis>(steady.time_since_epoch());
    const auto moved = last_ ? difference - *last_ : Millis{0};
    last_ = difference;
    if (moved > limit || moved < -limit) {
      return moved;
    }
    return std::nullopt;
  }

 private:
  static constexpr Millis limit{10'000};
  std::optional<Millis> last_;
};

}  // namespace dryclock::app
