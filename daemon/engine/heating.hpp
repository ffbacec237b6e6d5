// A short heating of a part of a piece: for how long a tool holds the film's surface there; and what a lamp
// gives.
//
// The energy bounds it. A tool draws tool_w, of which 0.15 reaches the film (assumption: the rest goes past
// it with the hot air, or is reflected). From that the sheet is brought to surface_c, and what it gives off
// to the air is made good:
//   0.15 x tool_w x time = area x (C (surface - panel) + h (surface - air) x time held)
// with C and h of the panel (models/catalogue.hpp). The sun is no tool: what it holds, it holds.
#pragma once

#include <vector>

#include "base/time.hpp"
#include "domain/event.hpp"
#include "models/catalogue.hpp"

namespace dryclock::engine {

struct Heating {
  Time from;
  Millis span{};
  std::vector<models::ZoneKind> zones;
  double zone_area_m2 = 0.0;  // of one of those zones; they are alike
  double surface_c = 0.0;
  double swept_m2 = 0.0;  // 0: all of the zone
  double power_w = 0.0;   // that reaches the film; +infinity: of the sun
};

// The area of a zone on a piece of that area. [m2] Assumptions: what is warmed along an edge is a strip 10 cm
// wide around a square piece; a recess is a tenth of it.
[[nodiscard]] double zone_area(models::ZoneKind kind, double piece_m2);

// `from`: the minute that it begins at. Without a zone in `heat` it goes along the edges, of which
// `kinds`, the piece's zones, must have one; else over all of the piece.
[[nodiscard]] Heating heating_of(const HeatApplied& heat, Time from,
                                 const std::vector<models::ZoneKind>& kinds, double piece_m2);

// From its beginning on the zones count as held for so long, and then no more. A step waits for the wettest
// part of a zone: where less was swept than the zone has, nothing is counted.
[[nodiscard]] Millis held_for(const Heating& heating, const models::PanelThermal& panel, double panel_c,
                              double air_c);

// What a lamp that is on warms a target of that area by [W/m2 of the panel]: what was told, and never more
// than 0.5 x tool_w (assumption: half of what an infrared lamp draws is taken up) gives over what is lit. 0
// where less is lit than the target has: as above. A target whose area is not known (0) takes what was told.
[[nodiscard]] double lamp_heat(const LampSwitched& lamp, double target_m2);

}  // namespace dryclock::engine
