// The wall clock is injected, so that a night can be played in a second and a test can step it.
// One reading a turn of work, passed down; steady time for time-outs never meets it.
#pragma once

#include "base/time.hpp"

namespace dryclock {

class Clock {
 public:
  Clock() = default;
  Clock(const Clock&) = delete;
  Clock& operator=(const Clock&) = delete;
  virtual ~Clock() = default;
  [[nodiscard]] virtual Time now() const = 0;
};

class SystemClock final : public Clock {
 public:
  [[nodiscard]] Time now() const override;
};

// Set by a test, or by the times that recorded messages carry ("driven by messages").
// Not thread-safe: owned by the thread that sets it.
class ManualClock final : public Clock {
 public:
  explicit ManualClock(Time start) : now_(start) {}
  [[nodiscard]] Time now() const override { return now_; }
  void set(Time t) { now_ = t; }
  void advance(Millis by) { now_ += by; }

 private:
  Time now_;
};

}  // namespace dryclock
