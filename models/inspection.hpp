// What a fitter sees and feels, and how likely it is that he does.
#pragma once

#include <cstdint>
#include <optional>

namespace dryclock::models {

enum class Finding : std::uint8_t { wet, hazy, clear, lifting };

// What was seen, as a shop learns from it.
enum class Sign : std::uint8_t {
  wet,  // by eye, through film on paint: these three speak of the water that is left
  hazy,
  clear,
  held,  // what a wrapped or trimmed edge did: it speaks of its wet share then
  lifted,
  mostly_wet,  // counted at a strip on a clear plate: its wet share, whoever looks
  half_wet,
  tenth_wet,
  none_wet,
};
// Signs of one sort are answers to the same question.
enum class SignSort : std::uint8_t { eye, hold, count };
[[nodiscard]] SignSort sort_of(Sign sign);
// Nothing of `lifting`: what it says, it says of the moment when the edge was wrapped.
[[nodiscard]] std::optional<Sign> sign_of(Finding finding);

// How likely the eye would have found this at so much water (g/m2): wet, hazy or clear; 1 for what it does
// not judge. `blur`: of the reading, against the usual factor of two; 0..1. Assumption (nothing published): a
// layer under 0.2 g/m2 looks clear, one over 3 g/m2 wet, hazy between. One finding in twenty is mistaken.
[[nodiscard]] double sight(Sign sign, double water, double blur);

// How likely a sign of the other sorts is where such a share of the zone is wet [0..1]; 1 for the eye's.
// Assumptions: an edge holds where less than about 0.3 of it is wet, within a factor of two; what is counted
// has its bounds at 0.03, 0.25 and 0.75, and is read within a factor of 1.6 of its odds. One sign in twenty
// is mistaken.
[[nodiscard]] double share_sight(Sign sign, double wet_share);

}  // namespace dryclock::models
