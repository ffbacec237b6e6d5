// The slow truth: one zone on a fine grid, with nothing approximated that film_modes approximates.
//
// Implicit finite volumes across adhesive, film and topcoat, every layer with its own activation energy, the
// air layer's resistance as it is at each moment. Unknown is the water held, S a, per cell, so that a change
// of temperature conserves mass; it flows by the vapour pressure a p_sat(T_panel):
//     S da/dt = d/dx (P(T) p_sat(T) da/dx);  inner face a = a_w over liquid, tight under dried film;
//     outer face: flux = p_sat(T) (a - a_out)/R_air(T), a_out = p_air/p_sat(T_panel), at most 1.
// Where the liquid has broken up, two fields are carried: that of the columns over liquid, and the mean over
// the zone, into which the wetted share of the flux enters. Liquid, mean field and what has left are stepped
// by the same linear scheme, so that water is conserved to rounding. Time is stepped by TR-BDF2 with its
// embedded error estimate. For single answers (`dryclock dry`) and as the tests' yardstick; a piece uses
// Zone, ten thousand times faster.
#pragma once

#include <vector>

#include "models/catalogue.hpp"
#include "models/units.hpp"
#include "models/water_layer.hpp"

namespace dryclock::models {

class FilmStackSolver {
 public:
  // The film starts in equilibrium with `at_lay`. A panel temperature that is not given is the air's.
  // `tolerance`: error allowed per step, as a share of saturation; 1e-6 gives drying times to 1e-5.
  FilmStackSolver(const FilmStack& stack, const WaterLayer& layer, GramsPerSquareMetre water,
                  MetresPerSecond air_layer, const Surroundings& at_lay, double tolerance = 1e-6);

  // Air and panel are linear between `from` and `to`.
  void advance(const Surroundings& from, const Surroundings& to, Seconds duration);

  [[nodiscard]] double water() const;       // g/m2 of liquid, mean over the zone
  [[nodiscard]] double film_water() const;  // g/m2 held by adhesive, film and topcoat
  [[nodiscard]] double excess() const;      // of that, above equilibrium with the air now [g/m2]
  [[nodiscard]] double evaporated() const;  // g/m2 that left through the outer face so far
  [[nodiscard]] bool dry() const;
  [[nodiscard]] double dry_after() const;  // s since lay; +infinity while wet

 private:
  // What temperature and air make of the grid at one instant.
  struct Coefficients {
    std::vector<double>
        conductance;       // g/(m2 s) per unit activity between cells; [0] inner face, [n] to the air
    double outside = 0.0;  // a_out
  };
  struct Fields {
    std::vector<double> wet;   // a of the columns over liquid
    std::vector<double> mean;  // a, mean over the zone
    double water = 0.0;        // liquid, mean over the zone, g/m2
    double evaporated = 0.0;   // g/m2
  };
  struct Rates {
    std::vector<double> wet, mean;  // g/(m2 s) per cell
    double water = 0.0, evaporated = 0.0;
  };

  [[nodiscard]] Coefficients coefficients(const Surroundings& air) const;
  [[nodiscard]] double wetted(double water) const;
  [[nodiscard]] Rates rates(const Fields& fields, const Coefficients& c) const;
  // Solves fields = known + weight * rates(fields) (weight in s).
  [[nodiscard]] Fields solve(const Fields& known, const Coefficients& c, double weight) const;
  struct Trial {
    Fields fields;
    double error = 0.0;
  };
  [[nodiscard]] Trial step(const Surroundings& from, const Surroundings& to, double duration, double at,
                           double length) const;

  FilmStack stack_;
  WaterLayer layer_;
  MetresPerSecond air_layer_;
  double tolerance_;

  std::vector<double> holds_;       // g/m2 at saturation, per cell
  std::vector<std::size_t> sheet_;  // layer of each cell
  std::vector<double> half_;        // m, half the width of each cell

  Fields fields_;
  double outside_ = 0.0;
  double elapsed_ = 0.0;
  double dry_after_;
  double trial_length_ = 1e-3;  // s
};

}  // namespace dryclock::models
