// The wall clock is injected, so that a night can be played in a second and a test can step it.
// One reading a turn of work, passed down; steady time for time-outs never meets it.
#pragma once

#include <atomic>
#include <functional>
#include <utility>

#include "base/time.hpp"

namespace dryclock {

// Since the machine's boot, suspend included. Nobody can set it: the truth that wall times are held against.
[[nodiscard]] Millis boot_time();

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

// Boot time and the moment at which the machine booted, as far as is known: it does not jump when the
// machine's clock is set, but when it is told to. Any thread.
class BootClock final : public Clock {
 public:
  // `since_boot` is asked on any thread.
  explicit BootClock(Time booted, std::function<Millis()> since_boot = boot_time)
      : since_boot_(std::move(since_boot)), booted_(booted) {}
  [[nodiscard]] Time now() const override { return booted() + since_boot_(); }
  [[nodiscard]] Time booted() const { return booted_.load(std::memory_order_relaxed); }
  void set(Time booted) { booted_.store(booted, std::memory_order_relaxed); }

 private:
  std::function<Millis()> since_boot_;
  std::atomic<Time> booted_;
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
