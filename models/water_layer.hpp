// The liquid left under the film: how it thins, breaks up, and recedes from an open margin.
//
// Above w_c (break_up) the layer is whole. Below it lies in patches that wet the fraction s = w/w_c of the
// area, and dw/dtau = -s J. In the coordinate
//     l = w  for w >= w_c,   l = w_c + w_c ln(w/w_c)  below,
// both are dl/dtau = -J: the whole life of the layer is one straight integral of the flux, exact for any
// step. w_c = 0 (a layer that stays whole to its end) is carried as whole_to_the_end, 1 mg/m2.
#pragma once

#include <algorithm>
#include <cmath>

#include "models/catalogue.hpp"
#include "models/units.hpp"

namespace dryclock::models {

inline constexpr double whole_to_the_end = 1e-3;  // g/m2

struct WaterLayer {
  double break_up = whole_to_the_end;  // w_c, g/m2, > 0
  double dry_limit = 0.0;              // g/m2 of mean water below which the zone counts as dry, > 0

  WaterLayer() = default;
  // With w_c = 0, dry means that w = 0: the coordinate's zero. Else the mean water is below `dry_below`.
  WaterLayer(GramsPerSquareMetre w_c, GramsPerSquareMetre dry_below)
      : break_up(std::clamp(w_c.value(), whole_to_the_end, 1000.0)),
        dry_limit(break_up > whole_to_the_end ? std::clamp(dry_below.value(), whole_to_the_end, 1000.0)
                                              : whole_to_the_end * std::exp(-1.0)) {}

  [[nodiscard]] double coordinate(double water) const {
    return water >= break_up ? water : break_up * (1.0 + std::log(water / break_up));
  }
  [[nodiscard]] double water(double coordinate) const {
    return coordinate >= break_up ? coordinate : break_up * std::exp(log_wetted(coordinate));
  }
  // ln s: 0 while the layer is whole.
  [[nodiscard]] double log_wetted(double coordinate) const {
    return std::min(0.0, (coordinate - break_up) / break_up);
  }
};

// Activity of the water in what is left of a tack solution, by Raoult's law on mole fractions. [0..1]
// `left` is the share of the first water still there. Isopropyl alcohol leaves before the water, as in a
// batch distillation: alcohol ~ water^10 (Rayleigh, separation factor 10 constant: an assumption; over a free
// surface it is about 20 for dilute alcohol (from memory), through film it is not known).
// Raoult's law gives an activity too low: by 0.034 at the 25 % by mass that tack solutions reach, 0.15 at the
// 50 % that are taken at most (van Laar; 0.04 by measurement at 83 C). With a tenth of the water gone, 25 %
// have become 11 %, and 0.007 is lacking: it dries a little sooner than is said.
[[nodiscard]] double water_activity(double alcohol_fraction, double left);

// How fast water recedes from a free margin through a gap that stays open, as d(L^2)/dt. [m2/s]
// The vapour that diffuses over the dry length L is taken from the front: L dL/dt = D (rho_sat -
// rho_air)/rho_w; the gap's height cancels, for water filled it. 2 mm takes 2.4 h, 5 mm 15 h, 10 mm 61 h at
// 21 C and 50 %RH. An upper bound: film that has touched the paint closes the gap. 0 where the air is damper
// than the front.
[[nodiscard]] double front_rate(Celsius panel, Celsius air, Humidity humidity);

}  // namespace dryclock::models
