#include "models/safe_input.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "models/humid_air.hpp"

namespace dryclock::models {

double safe_number(double value, double low, double high, double otherwise) {
  return std::isfinite(value) ? std::clamp(value, low, high) : otherwise;
}

Surroundings made_safe(const Surroundings& given) {
  Surroundings air = clamped(given);
  constexpr double unknown = std::numeric_limits<double>::quiet_NaN();
  air.panel_c = safe_number(given.panel_c, coldest.value(), hottest.value(), unknown);
  air.absorbed_heat = safe_number(given.absorbed_heat, 0.0, 5000.0, 0.0);
  air.air_speed = safe_number(given.air_speed, 0.0, 50.0, unknown);
  return air;
}

PanelThermal made_safe(const PanelThermal& given) {
  const PanelThermal usual;
  PanelThermal panel;
  panel.heat_capacity = safe_number(given.heat_capacity, 50.0, 1e7, usual.heat_capacity);
  panel.transfer = HeatTransfer{safe_number(given.transfer.value(), 0.1, 500.0, usual.transfer.value())};
  panel.sides = safe_number(given.sides, 0.1, 2.0, usual.sides);
  panel.body_heat_capacity = safe_number(given.body_heat_capacity, 0.0, 1e8, 0.0);
  panel.body_transfer = HeatTransfer{safe_number(given.body_transfer.value(), 0.0, 500.0, 0.0)};
  return panel;
}

}  // namespace dryclock::models
