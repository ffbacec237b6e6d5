// The arithmetic of a step: loops over all members, and nothing else. What they are for stands in zone.hpp
// and thermal_step.hpp. They run over packs of members as wide as the processor's registers. Each member goes
// through the same operations in the same order whatever the width, and nothing is contracted
// (-ffp-contract=off), so that every width gives the same bits (tests/models/test_lane_loops.cpp).
#pragma once

#include <array>
#include <cstddef>
#include <limits>

#include "models/film_modes.hpp"
#include "models/lanes.hpp"
#include "models/thermal_step.hpp"
#include "models/water_layer.hpp"

namespace dryclock::models {

// The dried area is carried as so many equal parts, each with the moment its contact began.
inline constexpr std::size_t contact_parts = 8;
inline constexpr double never = std::numeric_limits<double>::infinity();

// Bytes of a pack on this processor: 8, 16, 32 or 64. [-]
[[nodiscard]] std::size_t lane_width();
// Another width, for tests. False, and nothing changes, where this processor does not have it.
bool use_lane_width(std::size_t bytes);

// exp(x) without branch or table, as the loops use it. [-] x is clamped to -700..700; relative error below
// 1e-14 (2^n times the Taylor polynomial of degree 11 on |r| <= ln 2/2).
[[nodiscard]] double lane_exp(double x);

// How an activity outside moves over a step: before + change x + bend x (x - 1), x in thermal time.
struct Boundary {
  Lanes change{}, bend{};
};

// Three instants of a step, and where the middle lies in the film's thermal time.
struct Simpson {
  const Instant &begin, &middle, &end;
  double seconds, middle_lies, air_share;
};

// Thermal times, and a_eff = 1 - (1 - a_out) g with g = r(T_0)/r(now); `inverse` is 1/film_span.
void integrate(const Lanes& factor, const Simpson& over, ThermalStep& step, Lanes& inverse, Boundary& wet);

// A mode's decay over `span`, and what the boundary's change adds to it.
void respond(const Lanes& span, const Lanes& inverse, double rate, double projection, const Boundary& outside,
             Lanes& decay, Lanes& drive);
// The same for a mode so fast that nothing of it is left after the step.
void follow(const Lanes& inverse, double rate, double projection, const Boundary& outside, Lanes& decay,
            Lanes& drive);

using WetField = std::array<Lanes, wet_modes>;
using DryField = std::array<Lanes, dry_modes>;

// Wet columns over one step: the liquid falls by the flux into the film,
//   Integral J = Integral (a_w - a_out)/r - inner (c_before - c_after) + <1 - xi, xi> change of a_eff,
// the modes left out being in their quasi-steady state (they sit in the last term).
void step_wet(const FilmModes& modes, const ThermalStep& step, const Lanes& activity, const WetField& before,
              WetField& after, Lanes& liquid);

// How the wet share falls within the step: exponentially, over the last part of it.
struct Shrinking {
  Lanes log_before{}, log_after{};  // ln of the wet share where it begins to fall, and in the end
  Lanes fall{};                     // their difference, >= 0
  Lanes part{};                     // of the step, from the moment the layer breaks up to the end
  bool breaks_inside = false;
};

// A layer that breaks up inside the step counts from there; what a front took before is slight and joins it.
// The margins as logarithms.
void shrink(const WaterLayer& layer, const Lanes& liquid_before, const Lanes& liquid_after,
            double margin_before, double margin_after, Shrinking& shrinking);

// Feeds the dry field with the columns that dried during the step. With L = fall, y = rate * span * part:
//   Integral over x in 0..1 of L e^(-L x) e^(-y (1 - x)) (G0 + (G1 - G0) x),
// where G = <psi_j, a_wet - a_out>, linear over the step.
void step_dry(const FilmModes& modes, const ThermalStep& step, const Lanes& activity, const WetField& before,
              const WetField& after, const Shrinking& shrinking, DryField& dry);

struct Extremes {
  double highest, lowest;
};

void extremes(const Lanes& values, Extremes& extremes);

// First contact of what the layer has uncovered during the step, on the bond clock.
void touch(const Shrinking& shrinking, double level, double clock_before, double clock_after, Lanes& contact);

struct WetColumns {
  const Lanes &activity, &outer, &liquid;
  const WetField& modes;
};

// What dry columns hold above equilibrium with the air, and the wet ones in their share of the area. [g/m2]
void add_dry_columns(const FilmModes& modes, const DryField& dry, Lanes& excess);
void add_wet_columns(const FilmModes& modes, const WaterLayer& layer, double margin, const WetColumns& wet,
                     double outside, Lanes& excess);

}  // namespace dryclock::models
