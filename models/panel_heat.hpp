// The panel's temperature: a thin sheet that follows the air within minutes, and what stands behind it, which
// lags by hours. The film is too thin to matter and never feeds back (evaporation cools by 0.07 K).
#pragma once

#include "models/catalogue.hpp"
#include "models/units.hpp"

namespace dryclock::models {

struct PanelState {
  double sheet_c = 21.0;  // C, the painted sheet: its outer face carries the film
  double body_c = 21.0;   // C, what stands behind; equal to sheet_c where there is nothing
};

// Heat transfer from one side of the panel to air that moves at this speed (m/s; NaN or 0: still bay).
// [W/(m2 K)] still + 4 v, slope of ISO 6946:2007 annex A (from memory); to 10 m/s.
[[nodiscard]] HeatTransfer transfer_in_moving_air(HeatTransfer still, double air_speed);

// The temperatures after `duration`, with air, absorbed heat and a measured panel linear between `from` and
// `to`:
//   C_s dTs/dt = n h (T_air - Ts) + q + h_b (Tb - Ts),   C_b dTb/dt = h_b (Ts - Tb)
// [C] Exact for any length of step. A measured panel (to.panel_c) replaces the sheet's equation. Without a
// measurement at `from`, the measured one is taken to have been reached in a straight line from `state`.
[[nodiscard]] PanelState advance(const PanelState& state, const PanelThermal& panel, const Surroundings& from,
                                 const Surroundings& to, Seconds duration);

}  // namespace dryclock::models
