// The modes of one film stack: what makes a drying step exact and cheap whatever its length.
//
// In water activity a = p/p_sat(T_panel), and in the thermal time d(tau) = theta(T_panel) dt, the stack is
// linear with constant coefficients (physics: S da/dtau = d/dx (k da/dx), k = P p_sat at the temperature that
// the modes are made for), so it falls apart into modes that decay on their own. Two bases are kept, both
// with the air layer outside:
//   wet  inner face held at the liquid's activity        dry  inner face tight (paint under dried film)
// Deviations are measured from the steady profile a_w (1 - xi) + a_out xi, xi(x) the share of the resistance
// between the panel and x. All inner products carry the weight S: <f, g> = Integral S f g dx, in g/m2.
// Modes are normalised to <phi, phi> = 1 g/m2.
//
// The thermal time is the film's own: theta(T) = p_sat(T)/p_sat(T_0) R(T_0)/R(T), R the sum over the layers,
// T_0 the modes' temperature. The air layer does not follow it. What the modes see outside is therefore not
// a_out but the activity that drives the true steady flux through the air layer they were made with,
//   a_eff = a_w - (a_w - a_out) r(T_0)/r(now), r = film and air in the film's own time:
// flux and profile of the steady state are then exact at any temperature, speed of air and film resistance.
// What is left is how fast the profile follows; made for the temperature at lay, they are right when it
// matters most.
//
// Valid for stacks whose layers share one activation energy: only then do the layers' shares of R not move
// with the temperature. With unlike energies, 10 to 18 kJ/mol in one stack, up to 2 % of the drying time or
// 0.6 % of the first water are lost (500 nights, models/README.md); film_stack has no such limit.
#pragma once

#include <array>
#include <cstddef>
#include <vector>

#include "models/catalogue.hpp"
#include "models/pace.hpp"
#include "models/units.hpp"

namespace dryclock::models {

inline constexpr std::size_t wet_modes = 8;
inline constexpr std::size_t dry_modes = 5;

// How fast thermal time runs at one instant, and what the air does: shared by all members.
struct Instant {
  double saturation = 1.0;  // p_sat(T_panel)/p_sat(T_0)
  double film = 1.0;        // resistance of the sheets now, as a share of FilmModes::resistance
  double air = 0.0;         // of the air layer, likewise
  double activity = 0.5;    // a_out, at most 1: dew outside the film holds its face at saturation
};

struct FilmModes {
  // Wet basis, k = 0.. : rate [1/s of thermal time], inner_k = <phi_k, 1 - xi>, outer_k = <phi_k, xi>.
  std::array<double, wet_modes> wet_rate{};
  std::array<double, wet_modes> inner{};
  std::array<double, wet_modes> outer{};
  // Dry basis, j = 0.. : rate, <psi_j, 1 - xi>, <psi_j, 1>.
  std::array<double, dry_modes> dry_rate{};
  std::array<double, dry_modes> dry_inner{};
  std::array<double, dry_modes> dry_content{};
  // <psi_j, phi_k>: what the dry basis sees of a wet mode when the liquid under it ends.
  std::array<std::array<double, wet_modes>, dry_modes> cross{};

  // Whole profiles, all modes included. [g/m2]
  double inner_inner = 0.0;    // <1 - xi, 1 - xi>
  double inner_outer = 0.0;    // <1 - xi, xi>
  double inner_content = 0.0;  // <1 - xi, 1>: what a wet film holds above a dry one, per unit activity
  double capacity = 0.0;       // <1, 1>: what the saturated film holds
  // What the modes left out hold of the first two; they are taken to follow the boundaries at once.
  double inner_inner_rest = 0.0;
  double inner_outer_rest = 0.0;

  // Steady flux from a_w to a_out is (a_w - a_out)/resistance at the modes' own temperature. [m2 s/g]
  double resistance = 0.0;
  double air_share = 0.0;  // of that, in the air layer

  // The layers' resistance gathered by activation energy: shares of `resistance`.
  struct Sheet {
    double activation_energy = 0.0;
    double share = 0.0;
  };
  std::vector<Sheet> sheets;
  Celsius temperature;  // that the modes are made for
  Instant standard;     // at 21 C and 50 %RH, under the air layer that they are made for

  std::uint8_t validity = valid;
};

// The modes of this stack under an air layer (h_m) at a temperature. Layer parameters outside any known
// material are clamped and flagged (film_out_of_range).
[[nodiscard]] FilmModes film_modes(const FilmStack& stack, MetresPerSecond air_layer,
                                   Celsius temperature = reference_temperature);

// Whether all layers share one activation energy, as the modes assume.
[[nodiscard]] bool one_activation_energy(const FilmStack& stack);

// Bounds that no known sheet leaves; sets film_out_of_range where a layer had to be moved inside.
[[nodiscard]] FilmStack clamped(const FilmStack& stack, std::uint8_t& validity);

[[nodiscard]] Instant instant(const FilmModes& modes, Celsius panel, Celsius air, Humidity humidity,
                              MetresPerSecond air_layer);

// How fast the steady flux runs against the modes' own temperature, in film whose sheets have `factor` times
// the stack's resistance.
// [-]
[[nodiscard]] inline double thermal_rate(const Instant& now, double factor) {
  return now.saturation / (factor * now.film + now.air);
}

}  // namespace dryclock::models
