// What a piece of film is made of, as the models see it: numbers in SI with their spread. The daemon fills
// these from config/films.toml, solutions.toml and panels.toml; a test or `dryclock dry` fills them by hand.
#pragma once

#include <cmath>
#include <cstdint>
#include <limits>
#include <string>
#include <vector>

#include "models/units.hpp"

namespace dryclock::models {

// One sheet of the stack, at the reference temperature of 21 C.
struct Layer {
  std::string name;
  Metres thickness;
  Permeability permeability;            // P(21 C)
  double sorption = 0.0;                // S_sat: kg of water per m3 of polymer at saturation
  double activation_energy = 13'000.0;  // J/mol, on the pressure basis
  bool operator==(const Layer&) const = default;
};

// Adhesive first, outermost topcoat last.
struct FilmStack {
  std::vector<Layer> layers;
  double ln_resistance_spread = 0.35;  // standard deviation of ln R; 0.12 after a coupon test
  bool operator==(const FilmStack&) const = default;
};

// A quantity that is known as a range: 10th, 50th and 90th percentile (log-normal between them).
struct Range {
  double low = 0.0;
  double likely = 0.0;
  double high = 0.0;
  bool operator==(const Range&) const = default;
};

enum class ZoneKind : std::uint8_t { field, edge, recess, turn };
inline constexpr std::size_t zone_kinds = 4;

// How wet the squeegee left it, in words a fitter would use; pooled: water stands in a recess.
enum class Wetness : std::uint8_t { dry_pulled, usual, wet, pooled };
inline constexpr std::size_t wetnesses = 4;

// What was sprayed: water with a little surfactant, or water with alcohol.
struct Solution {
  double alcohol_fraction = 0.0;  // isopropyl alcohol, mass fraction 0..0.5
  bool operator==(const Solution&) const = default;
};

// How the panel's temperature follows the air: rho c L of sheet, and the body behind it.
struct PanelThermal {
  double heat_capacity = 2767.0;    // J/(m2 K), rho c L (0.75 mm steel)
  HeatTransfer transfer{8.0};       // to the air, per side
  double sides = 1.0;               // 1: the air on the outer face alone, 2: on both
  double body_heat_capacity = 0.0;  // J/(m2 K) of what stands behind; 0: none
  HeatTransfer body_transfer{0.0};  // between the sheet and what stands behind
  bool operator==(const PanelThermal&) const = default;
};

// The air at one instant, at one place.
struct Surroundings {
  Celsius air;
  Humidity humidity;                                            // over liquid water, also below 0 C
  double panel_c = std::numeric_limits<double>::quiet_NaN();    // measured panel temperature; NaN: modelled
  double air_speed = std::numeric_limits<double>::quiet_NaN();  // m/s; NaN: still bay
  double absorbed_heat = 0.0;                                   // W/m2 on the panel: lamp, sun, heat gun
};

// The air at share x of the way from a to b. What is not measured at either end is not measured between; the
// speed of the air holds for the whole way to b.
[[nodiscard]] inline Surroundings between(const Surroundings& a, const Surroundings& b, double x) {
  Surroundings c = b;
  c.air = a.air + (b.air - a.air) * x;
  c.humidity = a.humidity + (b.humidity - a.humidity) * x;
  c.panel_c = a.panel_c + (b.panel_c - a.panel_c) * x;
  c.absorbed_heat = a.absorbed_heat + (b.absorbed_heat - a.absorbed_heat) * x;
  return c;
}

// Travels with every computed value to the page. Zero is good.
enum Validity : std::uint8_t {
  valid = 0,
  air_out_of_range = 1,   // temperature or humidity outside the formulas' range; clamped
  film_out_of_range = 2,  // a layer's parameter outside any material known
  panel_too_hot = 4,      // above the routine cap of 60 C
  condensing = 8,         // the panel is at or below the dew point
  bridged_gap = 16,       // no readings for a while: the slower end was assumed
};

}  // namespace dryclock::models
