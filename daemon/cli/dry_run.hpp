// Dries a case: the models driven through its air in steps of a minute, and the moments a person asks for.
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <vector>

#include "cli/dry_case.hpp"

namespace dryclock::cli {

// Shares of the film's own excess at the moment the liquid is gone, and of the final bond, that are timed.
inline constexpr std::array excess_shares{0.50, 0.20, 0.10, 0.05, 0.01};
inline constexpr std::array bond_levels{0.50, 0.60, 0.75, 0.90};

struct DryPoint {
  double hours = 0.0;
  double water = 0.0;   // g/m2 of liquid
  double excess = 0.0;  // g/m2 in the film above equilibrium with the air of that moment
  double bond = 0.0;    // 0..1, mean over the zone
  double air_c = 0.0, rh_pct = 0.0, panel_c = 0.0;
  double pace = 0.0;
};

struct DryResult {
  std::optional<double> below_h;  // water below dry_below [h]; absent: not within max_hours
  // The liquid is gone [h]: w = 0 with break_up 0, else below dry_below (patches never end, they fade).
  std::optional<double> dry_h;
  double standard_hours = 0.0;  // delivered until then, or until the end
  double excess_at_dry = 0.0;   // g/m2
  // Minutes after dry_h; all absent where nothing falls.
  std::array<std::optional<double>, excess_shares.size()> excess_min;
  std::array<std::optional<double>, bond_levels.size()> bond_h;  // h
  std::vector<DryPoint> series;
  std::uint8_t validity = models::valid;
  bool air_held = false;  // ran beyond the last row of air

  // Whether the film held excess as the liquid ended. Air that has just turned damp would leave more in it.
  [[nodiscard]] bool falls() const { return dry_h && excess_at_dry > 0.0; }
};

// One point of the series every `every_minutes` and at the end. Ends when every moment above is known, or at
// max_hours.
[[nodiscard]] DryResult run(const DryCase& dry, double every_minutes);

}  // namespace dryclock::cli
