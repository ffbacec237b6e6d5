// What the figures of calibration share: the piece, the seed, and how often a time fell where it was told.
#pragma once

#include <cmath>
#include <cstdint>
#include <vector>

#include "models/shop_truth.hpp"

namespace dryclock::bench {

inline constexpr double hour = 3600.0;
inline constexpr std::uint32_t seed = 20261129;
inline constexpr double hours_ahead = 144.0;
inline const std::vector<models::LaidZone> bonnet{shop_truth::zone(models::ZoneKind::field, 1.0),
                                                  shop_truth::zone(models::ZoneKind::edge, 3.5)};

inline double late_by(double hours, double expected) {
  return std::abs(std::log(hours / expected));
}

// How often a time fell within a band of 80 %, and before what is announced at 0.9.
struct Tally {
  double held = 0.0, came = 0.0, count = 0.0;
  void add(double time, double early, double late) {
    held += time >= early && time <= late ? 1.0 : 0.0;
    came += time <= late ? 1.0 : 0.0;
    count += 1.0;
  }
  [[nodiscard]] double coverage() const { return held / count; }
  [[nodiscard]] double came_true() const { return came / count; }
};

// How fast shops are learnt, under the air of each of these bays.
void learning(const std::vector<shop_truth::Bay>& all);

}  // namespace dryclock::bench
