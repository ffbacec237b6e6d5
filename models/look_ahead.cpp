#include "models/look_ahead.hpp"

#include <algorithm>
#include <array>
#include <limits>

#include "models/ensemble.hpp"
#include "models/lanes.hpp"

namespace dryclock::models {

MilestoneTimes look_ahead(Piece piece, const std::vector<Surroundings>& forecast, Seconds step) {
  std::array<Lanes, milestone_kinds> first;
  for (Lanes& lanes : first) {
    lanes.fill(std::numeric_limits<double>::infinity());
  }
  constexpr std::uint8_t every = (1U << milestone_kinds) - 1U;
  for (std::size_t i = 0; i < forecast.size(); ++i) {
    if (i > 0) piece.advance(forecast[i - 1], forecast[i], step);
    const double hours = static_cast<double>(i) * step.value() / 3600.0;
    bool all = true;
    const std::vector<std::uint8_t>& bits = piece.reached();
    for (std::size_t m = 0; m < members; ++m) {
      for (std::size_t k = 0; k < milestone_kinds; ++k) {
        if (((bits[m] >> k) & 1U) != 0) first[k][m] = std::min(first[k][m], hours);
      }
      all = all && bits[m] == every;
    }
    if (all) break;
  }
  MilestoneTimes times;
  for (std::size_t k = 0; k < milestone_kinds; ++k) {
    times.hours[k] = weighted_quantiles(first[k], piece.weights());
  }
  return times;
}

}  // namespace dryclock::models
