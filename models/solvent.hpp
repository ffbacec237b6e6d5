// Isopropyl alcohol from tack solution: an upper bound of its vapour in the bay. The bound can say that a
// limit may be exceeded; it can never say that the air is safe (air is not well mixed, and the vapour lies
// low).
#pragma once

#include "models/units.hpp"

namespace dryclock::models {

// Limits for isopropyl alcohol. NIOSH Pocket Guide: REL 400 ppm as an 8 h average, 500 ppm over 15 minutes,
// lower explosive limit 2.0 % by volume, flash point 12 C. A country's own limits differ: configurable.
struct SolventLimits {
  double day_ppm = 400.0;
  double short_ppm = 500.0;
  double explosive_ppm = 20'000.0;
  Celsius flash_point{12.0};
};

inline constexpr double isopropanol_molar_mass = 60.1;  // g/mol, NIOSH

// What was used, and where.
struct SolventUse {
  double alcohol_grams = 0.0;      // pure alcohol: solution mass times mass fraction
  double volume_m3 = 0.0;          // of the bay, > 0
  double air_changes_per_h = 0.0;  // 0: none
  Celsius air{21.0};
};

struct SolventBound {
  double peak_ppm = 0.0;   // all of it evaporated at once, well mixed, nothing removed
  double day_ppm = 0.0;    // 8 h average of that, thinned by the air changes
  bool saturated = false;  // the peak is held down by the vapour pressure: liquid remains
  bool may_exceed_day = false;
  bool may_exceed_short = false;
  bool may_reach_explosive =
      false;  // a tenth of the explosive limit: near the source it may be ten times the mean
  bool ignitable_at_source = false;  // the bay is at or above the flash point of the pure solvent
};

// Vapour pressure of isopropyl alcohol: log10(p/bar) = 5.24268 - 1580.92/(219.61 + t). [Pa] Antoine, -26..83
// C.
[[nodiscard]] Pascal isopropanol_vapour_pressure(Celsius temperature);

// Well-mixed bound: c = m R T/(M V p), at most p_sat/p; 8 h mean c (1 - e^-8n)/(8 n). [ppm by volume]
[[nodiscard]] SolventBound solvent_bound(const SolventUse& use, const SolventLimits& limits = {});

}  // namespace dryclock::models
