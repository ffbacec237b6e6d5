// The bond coupon: strips of a film laid dry side by side, and pulled off one after the other. What each took
// against the last one says how far its bond had come (bond.hpp), and so by which law and how slowly the bond
// grows in this air.
#pragma once

#include <span>
#include <vector>

#include "models/bond.hpp"

namespace dryclock::models {

struct PulledStrip {
  BondClocks clock{};  // s at 20 C that the bay's air was worth from lay on, by either law
  double peel = 0.0;   // > 0, in any unit: N per 25 mm
};

// Standard error of ln of what a strip takes: hand, angle and speed. Assumption.
inline constexpr double peel_error = 0.15;
// Fewer strips say nothing, and the last must have come close to its final strength. [s since lay]
inline constexpr std::size_t least_strips = 3;
inline constexpr double final_after = 72.0 * 3600.0;

// How likely the strips are in each of shop_worlds(), the greatest 1, whatever the film's final strength is.
// As after any coupon a tenth stays with what it speaks against. Empty for fewer than least_strips.
[[nodiscard]] std::vector<double> bond_likelihoods(std::span<const PulledStrip> strips);

// What such likelihoods make of the bond's slowness, beside what is thought of any shop: mean and standard
// deviation of its logarithm, and the chance that the bond goes with the temperature by the first law.
struct BondGoes {
  double ln_slowness = 0.0, slowness_sd = 0.0;
  double first_law = 0.5;
};
[[nodiscard]] BondGoes bond_goes(std::span<const double> likelihoods);

}  // namespace dryclock::models
