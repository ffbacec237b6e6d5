// One bay's air: accepted readings in, one point for every whole minute out.
//
// A minute is known once readings of both air temperature and humidity stand on either side of it, so the air
// between two readings is a straight line, be they ten seconds or an hour apart. Several sensors of one
// quantity are averaged: each gives its own line; one that has nothing newer yet is held for `bridge_after`,
// so that the mean does not jump with every message; one that is silent for longer is left out.
//
// Silence beyond `bridge_after`, or a stepped clock, is a gap. It is bridged, once its far end is known, with
// the air of that end under which film dries more slowly, and every such minute says so. Until then the bay
// simply has no later minutes: the state never runs ahead of what was measured.
//
// A gap longer than `longest_bridge` is reported, not bridged: a machine's clock that begins in 1970 would
// ask for 30 million minutes. It stays a hole: no air is known there, so film stands still in it, which is
// the safe side.
#pragma once

#include <array>
#include <deque>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "domain/effects.hpp"
#include "domain/types.hpp"
#include "domain/view.hpp"
#include "engine/series.hpp"

namespace dryclock::engine {

// What the newest readings say, without waiting for the next ones; absent where they are too old.
struct PresentAir {
  std::optional<double> air_c, rh_pct, panel_c;
  std::optional<Time> as_of;  // of the older of temperature and humidity
};

// As long as air is kept for the plots: the week's holiday is bridged. The minutes of the longest bridge take
// 0.7 MB.
inline constexpr Millis longest_bridge = std::chrono::hours{8 * 24};

class BayAir {
 public:
  // Every whole minute from its first to its last.
  using Stretch = std::deque<AirPoint>;

  BayAir(std::string name, Millis bridge_after) : name_(std::move(name)), bridge_after_(bridge_after) {}

  // Whether that time has already been turned into minutes: a reading for it comes too late.
  [[nodiscard]] bool is_past(Time at) const { return frontier() && at <= *frontier(); }
  void add(const Reading& reading);
  void clock_stepped();
  void bridge_after(Millis silence) { bridge_after_ = silence; }

  // Turns readings into minutes, at most up to `now`. The gaps that were found are appended to `gaps`.
  void close_minutes(Time now, std::vector<GapRow>& gaps);

  [[nodiscard]] std::optional<Time> first() const;     // first minute still kept
  [[nodiscard]] std::optional<Time> frontier() const;  // last minute known
  // Null before first(), after frontier() and in holes. `at` is a whole minute.
  [[nodiscard]] const AirPoint* point(Time at) const;
  // In order, with holes between; none is empty.
  [[nodiscard]] const std::deque<Stretch>& stretches() const { return stretches_; }
  // First minute of the first stretch that begins after t.
  [[nodiscard]] std::optional<Time> next_stretch(Time t) const;
  [[nodiscard]] PresentAir present(Time now) const;
  // When temperature or humidity fell silent: the older of their newest readings.
  [[nodiscard]] std::optional<Time> newest_pair() const;

  // Drops minutes before t.
  void forget_before(Time t);

 private:
  using Sensors = std::map<std::string, Series, std::less<>>;
  [[nodiscard]] const Sensors& sensors(Quantity q) const { return series_[static_cast<std::size_t>(q)]; }
  [[nodiscard]] std::optional<double> mean(Quantity q, Time t) const;
  [[nodiscard]] std::optional<double> newest_mean(Quantity q, Time now) const;
  [[nodiscard]] std::optional<Time> newest(Quantity q) const;
  [[nodiscard]] std::optional<Time> start() const;
  [[nodiscard]] std::optional<AirPoint> measured(Time t) const;
  [[nodiscard]] std::optional<Time> next_known(Time t) const;
  [[nodiscard]] GapRow gap(Time before, Time after) const;
  void bridge(const AirPoint& after, std::vector<GapRow>& gaps);
  void report_clock_step(std::vector<GapRow>& gaps);

  std::string name_;
  Millis bridge_after_;
  std::array<Sensors, quantity_kinds> series_;
  std::deque<Stretch> stretches_;
  std::optional<Time> scan_;  // minutes from the frontier up to here are known to be unknown

  std::optional<Time> step_from_;                  // a clock step whose far end is awaited
  std::array<std::optional<Time>, 2> after_step_;  // first temperature and humidity after it
  std::optional<GapRow> last_step_;
};

}  // namespace dryclock::engine
