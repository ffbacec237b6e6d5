// Two humidity sensors in one bay that part slowly, over weeks: one of them drifts. It needs more past than
// the engine keeps, so it is taken from the database, once a day. One sensor alone cannot be told from air
// that changes.
#pragma once

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
struct Drift {
  double then_pct = 0.0, now_pct = 0.0;  // one minus other, means over a week
};

// So far apart lie the weeks that are compared; this change of their difference is told. Common practice, no
// source.
inline constexpr Millis drift_span = std::chrono::hours{4 * 7 * 24};
inline constexpr double drift_pct = 3.0;
// Hours of a week in which both were believed, of 168: fewer say too little.
inline constexpr std::size_t least_hours = 48;

// Those that hang in one bay.
[[nodiscard]] std::vector<SensorPair> humidity_pairs(const std::vector<SensorMapping>& mappings);

// "front-air+front-wall"
[[nodiscard]] inline std::string drift_subject(const SensorPair& pair) {
  return pair.one.sensor + "+" + pair.other.sensor;
}

// The week before `now` against the week that ended four weeks before. Absent: too little is known of either.
// Problem: the database.
[[nodiscard]] Result<std::optional<Drift>> drift_of(const Reader& reader, const SensorPair& pair, Time now);

}  // namespace dryclock::store
