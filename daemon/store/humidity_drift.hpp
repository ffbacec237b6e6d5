// Two humidity sensors in one bay that part slowly, over weeks: one of them drifts. It needs more past than
// the engine keeps, so it is taken from the database, once a day. One sensor alone cannot be told from air
// that changes.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "base/result.hpp"
#include "domain/types.hpp"
#include "store/reader.hpp"

namespace dryclock::store {

struct SensorPair {  // how both are read now, so that a correction between the weeks is no drift
  SensorMapping one, other;
};
// The ends of a straight line through the daily means of one minus other.
struct Drift {
  double then_pct = 0.0, now_pct = 0.0;
  int weeks = 0;  // that it goes over
};

// A line goes over so many weeks: the longer one sees what is slow, the shorter one what has just begun. What
// began less than two weeks ago, and what both do alike, is not seen. This much is reported: common practice,
// no source.
inline constexpr std::array<int, 2> drift_weeks{8, 4};
inline constexpr double drift_pct = 3.0;
// A line needs half of its days, some of its first and of its last quarter among them; a day counts by hours
// in which both were believed.
inline constexpr std::size_t least_hours = 6;

// Those that hang in one bay.
[[nodiscard]] std::vector<SensorPair> humidity_pairs(const std::vector<SensorMapping>& mappings);

// "front-air+front-wall"
[[nodiscard]] inline std::string drift_subject(const SensorPair& pair) {
  return pair.one.sensor + "+" + pair.other.sensor;
}

// Of the lines that can be drawn up to `now`, the one that changes most; a change less than three times as
// large as its standard error is none. Absent: there are too few days. Problem: the database.
[[nodiscard]] Result<std::optional<Drift>> drift_of(const Reader& reader, const SensorPair& pair, Time now);

}  // namespace dryclock::store
