// What a fitter sees and feels, and what that says about the members of an ensemble.
#pragma once

#include <cstdint>

namespace dryclock::models {

enum class Finding : std::uint8_t { wet, hazy, clear, lifting };

// How likely a member with this much water (g/m2) and bond (0..1) would have shown what the fitter saw.
// Assumption (nothing published): a layer under 0.2 g/m2 looks clear, one over 3 g/m2 wet, hazy between; film
// lifts in proportion to the bond that is missing. One finding in twenty is mistaken.
[[nodiscard]] double likelihood(Finding finding, double water, double bond);

}  // namespace dryclock::models
