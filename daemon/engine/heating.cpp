#include "engine/heating.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace dryclock::engine {
namespace {

using models::ZoneKind;

// A nozzle's jet on a hand's breadth of film, 0.01 m2 at 100 W/(m2 K) and 300 K above it: 300 W of 2 kW.
constexpr double reaches_film = 0.15;
// A hand's breadth, and as much again that the sheet carries away: sqrt(k d/h) = 4.8 cm of 0.75 mm steel.
constexpr double strip_m = 0.10;
constexpr double recess_share = 0.1;
constexpr double taken_up = 0.5;  // of what an infrared lamp draws

}  // namespace

double zone_area(ZoneKind kind, double piece_m2) {
  switch (kind) {
    case ZoneKind::edge:
    case ZoneKind::turn:
      return std::min(piece_m2, 4.0 * std::sqrt(piece_m2) * strip_m);
    case ZoneKind::recess:
      return recess_share * piece_m2;
    case ZoneKind::field:
      break;
  }
  return piece_m2;
}

Heating heating_of(const HeatApplied& heat, Time from, const std::vector<ZoneKind>& kinds, double piece_m2) {
  Heating out;
  out.from = from;
  out.span = Millis{static_cast<std::int64_t>(heat.minutes * 60'000.0)};
  out.surface_c = heat.surface_c;
  out.swept_m2 = heat.area_m2;
  out.power_w =
      heat.source == HeatSource::sun ? std::numeric_limits<double>::infinity() : reaches_film * heat.tool_w;
  const auto zone = heat.zone.value_or(ZoneKind::edge);
  if (heat.zone || std::ranges::find(kinds, ZoneKind::edge) != kinds.end()) {
    out.zones = {zone};
    out.zone_area_m2 = zone_area(zone, piece_m2);
  } else {
    out.zones = kinds;
    out.zone_area_m2 = piece_m2;
  }
  return out;
}

Millis held_for(const Heating& heating, const models::PanelThermal& panel, double panel_c, double air_c) {
  const double span = std::chrono::duration<double>(heating.span).count();
  if (!(span > 0.0) || !(heating.surface_c > panel_c) || !(heating.zone_area_m2 > 0.0)) {
    return Millis{0};
  }
  const double swept_m2 = heating.swept_m2 > 0.0 ? heating.swept_m2 : heating.zone_area_m2;
  if (swept_m2 < heating.zone_area_m2) {
    return Millis{0};
  }
  // Of one square metre.
  const double warming = panel.heat_capacity * (heating.surface_c - panel_c);                             // J
  const double lost = std::max(0.0, panel.sides * panel.transfer.value() * (heating.surface_c - air_c));  // W
  const double given = heating.power_w * span / swept_m2;                                                 // J
  return Millis{std::llround(1000.0 * std::clamp((given - warming) / std::max(lost, 1e-9), 0.0, span))};
}

double lamp_heat(const LampSwitched& lamp, double target_m2) {
  const double lit_m2 = lamp.area_m2 > 0.0 ? lamp.area_m2 : target_m2;
  if (!lamp.on || lit_m2 < target_m2) {
    return 0.0;
  }
  const bool bounded = lamp.tool_w > 0.0 && lit_m2 > 0.0;
  return bounded ? std::min(lamp.heat_w_m2, taken_up * lamp.tool_w / lit_m2) : lamp.heat_w_m2;
}

}  // namespace dryclock::engine
