// Heat on a piece: lamp, sun, heat gun. What it adds to the panel's balance, and when it is too much for the
// film.
#pragma once

#include <cstdint>
#include <string_view>

#include "models/catalogue.hpp"
#include "models/units.hpp"

namespace dryclock::models {

// Surface temperatures. A judgement, not a standard: the film maker's data sheet wins, so they are
// configurable.
struct HeatCaps {
  Celsius routine{60.0};  // for as long as it takes
  Celsius brief{80.0};    // for a minute or two, while shaping
};

enum class HeatLevel : std::uint8_t { routine, brief_only, too_hot };

// What a surface temperature means under these caps.
[[nodiscard]] HeatLevel heat_level(Celsius surface, const HeatCaps& caps = {});

// What to tell the installer; empty at HeatLevel::routine. It defers to the film maker's data sheet and never
// says that a temperature is safe.
[[nodiscard]] std::string_view heat_warning(HeatLevel level);

// panel_too_hot above the routine cap, else valid.
[[nodiscard]] std::uint8_t heat_validity(Celsius surface, const HeatCaps& caps = {});

// Absorbed heat of a lamp or of the sun: irradiance times the finish's absorptance (0.2 white, 0.95 black).
// [W/m2] A negative irradiance counts as none; the absorptance is clamped to 0..1.
[[nodiscard]] double absorbed_heat(double irradiance, double absorptance);

// Absorbed heat that would hold a surface at this temperature: n h (T_surface - T_air). [W/m2] For a heat
// gun, where the surface is measured and the heat is not; still air; 0 where the surface is no warmer.
[[nodiscard]] double heat_that_holds(Celsius surface, Celsius air, const PanelThermal& panel);

// Where a panel settles under absorbed heat: T_air + q/(n h). [C] Still air, after several time constants.
[[nodiscard]] Celsius settled_surface(double absorbed, Celsius air, const PanelThermal& panel);

}  // namespace dryclock::models
