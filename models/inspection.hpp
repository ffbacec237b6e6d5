// What a fitter sees and feels, and what that says about the members of an ensemble.
#pragma once

#include <cstdint>

namespace dryclock::models {

enum class Finding : std::uint8_t { wet, hazy, clear, lifting };

// How likely a member with this much water (g/m2) and bond (0..1) would have shown what the fitter saw.
// Assumption (nothing published): a layer under 0.2 g/m2 looks clear, one over 3 g/m2 wet, hazy between; film
// lifts in proportion to the bond that is missing. One finding in twenty is mistaken.
[[nodiscard]] double likelihood(Finding finding, double water, double bond);

// What the eye alone sees: wet, hazy or clear; 1 for what it does not judge. `blur`: of the reading, against
// the usual factor of two; 0..1.
[[nodiscard]] double sight(Finding finding, double water, double blur);

}  // namespace dryclock::models
