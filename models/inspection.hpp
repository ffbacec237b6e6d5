// What a fitter sees and feels, and how likely it is that he does.
#pragma once

#include <cstdint>

namespace dryclock::models {

enum class Finding : std::uint8_t { wet, hazy, clear, lifting };

// How likely the eye would have found this at so much water (g/m2): wet, hazy or clear; 1 for what it does
// not judge. `blur`: of the reading, against the usual factor of two; 0..1. Assumption (nothing published): a
// layer under 0.2 g/m2 looks clear, one over 3 g/m2 wet, hazy between. One finding in twenty is mistaken.
[[nodiscard]] double sight(Finding finding, double water, double blur);

}  // namespace dryclock::models
