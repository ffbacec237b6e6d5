// One step of a stack in its thermal time, prepared once and shared by all zones under the same air layer.
#pragma once

#include <array>
#include <cstdint>

#include "models/film_modes.hpp"
#include "models/lanes.hpp"

namespace dryclock::models {

struct ThermalStep {
  double activity_before = 0.0;  // a_out
  double activity_after = 0.0;
  double highest_activity = 0.0;

  Lanes film_span{};                    // Integral of the film's own theta, the modes' time, per member [s]
  Lanes span{};                         // Integral of theta of film and air, what the steady flux runs by [s]
  Lanes imposed{};                      // the same of theta a_out [s]
  Lanes outer_before{}, outer_after{};  // a_eff of a film over pure water (film_modes.hpp)

  // A mode's amplitude goes c -> c decay - drive: it decays, and the boundary's change excites it.
  std::array<Lanes, wet_modes> wet_decay{}, wet_drive{};
  // Dry modes: likewise, the drive per unit of dry area.
  std::array<Lanes, dry_modes> dry_decay{}, dry_drive{};
};

// Which of the two bases a step is needed for.
enum class Bases : std::uint8_t { both, wet };

// Simpson over begin, middle and end of `seconds`; a_out and a_eff parabolas in thermal time. `factor` is the
// members' film resistance against the stack's. Exact for constant air at any length; else of fourth order.
void prepare(ThermalStep& step, const FilmModes& modes, const Lanes& factor, const Instant& begin,
             const Instant& middle, const Instant& end, double seconds, Bases bases = Bases::both);

}  // namespace dryclock::models
