// When live readers get the board: at once where they have waited long enough, else as soon as the gap has
// passed, however often it changed in between. Times are steady; owned by the core thread.
#pragma once

#include <algorithm>
#include <chrono>
#include <optional>

#include "base/time.hpp"

namespace dryclock::http {

class LivePace {
 public:
  using Instant = std::chrono::steady_clock::time_point;
  explicit LivePace(Millis gap) : gap_(gap) {}

  // The board changed: when it is to be sent, or nothing where a sending is on its way already.
  [[nodiscard]] std::optional<Instant> changed(Instant now) {
    if (waiting_) {
      return std::nullopt;
    }
    waiting_ = true;
    return std::max(now, last_ + gap_);
  }
  void sent(Instant now) {
    waiting_ = false;
    last_ = now;
  }

 private:
  Millis gap_;
  bool waiting_ = false;
  Instant last_{};
};

}  // namespace dryclock::http
