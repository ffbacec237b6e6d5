#include "models/heat_event.hpp"

#include <algorithm>

namespace dryclock::models {
namespace {

double loss_per_kelvin(const PanelThermal& panel) {
  return panel.sides * panel.transfer.value();
}

}  // namespace

HeatLevel heat_level(Celsius surface, const HeatCaps& caps) {
  if (surface <= caps.routine) {
    return HeatLevel::routine;
  }
  return surface <= caps.brief ? HeatLevel::brief_only : HeatLevel::too_hot;
}

std::string_view heat_warning(HeatLevel level) {
  switch (level) {
    case HeatLevel::routine:
      return {};
    case HeatLevel::brief_only:
      return "Warmer than most films bear for long. Keep moving, measure the surface, and keep to the film "
             "maker's data sheet. Hot panels burn; no heat near wet solvent, wet electrics, glass or "
             "airbags.";
    case HeatLevel::too_hot:
      return "Hot enough to harm film, adhesive or paint. Take the heat away, let the panel cool, look for "
             "damage, and follow the film maker's data sheet. Hot panels burn.";
  }
  return {};
}

std::uint8_t heat_validity(Celsius surface, const HeatCaps& caps) {
  return heat_level(surface, caps) == HeatLevel::routine ? valid : panel_too_hot;
}

double absorbed_heat(double irradiance, double absorptance) {
  return std::max(0.0, irradiance) * std::clamp(absorptance, 0.0, 1.0);
}

double heat_that_holds(Celsius surface, Celsius air, const PanelThermal& panel) {
  return std::max(0.0, loss_per_kelvin(panel) * (surface - air).value());
}

Celsius settled_surface(double absorbed, Celsius air, const PanelThermal& panel) {
  return air + KelvinDifference{absorbed / loss_per_kelvin(panel)};
}

}  // namespace dryclock::models
