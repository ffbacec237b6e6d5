// How the adhesive's bond grows once the liquid has locally gone.
#pragma once

#include "models/units.hpp"

namespace dryclock::models {

// Fraction of the final strength after so many seconds of contact at 23 C:
//   0.5 + 0.2154 log10(t/20 min), clamped to 0..1.
// [-] Through 50 % after 20 min, 90 % after 24 h, 100 % after 72 h: the usual statement for acrylic tapes
// (from memory; no standard gives it). 0 at t <= 0.
[[nodiscard]] double bond_fraction(double equivalent_seconds);

// Seconds at 23 C that one second at this temperature is worth: 1/a_T, log10 a_T = -8.211 (T - 23)/(86.60 +
// T).
// [-] Williams, Landel and Ferry 1955: universal constants moved from Tg = -35 C to 23 C. Using it for dwell
// is an assumption, so a warm panel is never credited with more than 1.3 decades (43 C). A cold one gets what
// the formula says: a floor would let it bond sooner than that, which is the unsafe side. The guard of 4
// decades (-13 C, where a day is worth 9 s) only keeps the number away from the formula's pole.
[[nodiscard]] double bond_rate(Celsius temperature);

}  // namespace dryclock::models
