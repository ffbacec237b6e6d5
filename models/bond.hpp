// How the adhesive's bond grows once the liquid has locally gone.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>

#include "models/units.hpp"

namespace dryclock::models {

inline constexpr double bond_half = 1200.0;        // s at 23 C until half of the final strength
inline constexpr double bond_per_decade = 0.2154;  // of the final strength
inline constexpr double bond_begins =
    5.7268852221865219;  // s, bond_half 10^(-0.5/0.2154): the formula's zero
inline constexpr double bond_complete = 251445.58414079907;  // s, bond_half 10^(0.5/0.2154): all of it

// Fraction of the final strength after so many seconds of contact at 23 C:
//   0.5 + 0.2154 log10(t/20 min), clamped to 0..1.
// [-] Through 50 % after 20 min, 90 % after 24 h, 100 % after 72 h: the usual statement for acrylic tapes
// (from memory; no standard gives it). 0 at t <= 0.
[[nodiscard]] double bond_fraction(double equivalent_seconds);
// Its inverse: seconds of contact after which it is so much. fraction: [0..1]
[[nodiscard]] double bond_seconds(double fraction);

// The mean bond of `parts` equal parts is 0.5 + 0.2154 log10(product)/parts, the product taken over t/(20
// min) with t kept between bond_begins and bond_complete: one logarithm for all.
[[nodiscard]] double mean_bond(double product, std::size_t parts);
// Seconds at 23 C that one second at this temperature is worth: 1/a_T, log10 a_T = -8.211 (T - 23)/(86.60 +
// T).
// [-] Williams, Landel and Ferry 1955: universal constants moved from Tg = -35 C to 23 C. Using it for dwell
// is an assumption, so a warm panel is never credited with more than 1.3 decades (43 C). A cold one gets what
// the formula says: a floor would let it bond sooner than that, which is the unsafe side. The guard of 4
// decades (-13 C, where a day is worth 9 s) only keeps the number away from the formula's pole.
[[nodiscard]] double bond_rate(Celsius temperature);

// Two laws of how dwell time goes with temperature, for nobody has measured it at such films. Both are pinned
// where the statement about tapes was made in practice: in a shop of 20 C (common practice, no source).
//   williams_landel_ferry  as above, moved to 20 C: 8.442 and 106.60 K
//   arrhenius              80 kJ/mol (from memory: 72 h at room temperature against 1 h at 66 C)
enum class BondLaw : std::uint8_t { williams_landel_ferry, arrhenius };
inline constexpr std::size_t bond_laws = 2;
inline constexpr double bond_energy = 80'000.0;  // J/mol, of the second
using BondClocks = std::array<double, bond_laws>;

// Seconds at 20 C that one second at this temperature is worth, within the same 1.3 and 4 decades. [-]
[[nodiscard]] double bond_rate(Celsius temperature, BondLaw law);

}  // namespace dryclock::models
