// One zone's drying night, solved by SUNDIALS CVODE: an independent model, written from the equations of
// models/README.md and sharing no line with models/. It is the yardstick of tests/reference and the rival of
// tests/bench.
//
// Vapour pressure formulation on a uniform grid in each sheet, BDF with a banded Jacobian:
//   C dp/dt = d/dx (P dp/dx) + p C (d ln p_sat/dT) dT/dt,  C = S/p_sat(T),  P = P_21 exp(-E/R_g (1/T -
//   1/294.15)) inner face p = p_sat(T) over liquid; outer face (p - min(p_air, p_sat(T)))/R_air, R_air = R_v
//   T_air/h_m.
// Two columns: `p` over liquid, and u = (1 - s) p_dry, the dried area's mean, tight at the panel and fed by
// -ds/dt p. s = min(1, w/w_c), dw/dt = -s J; w_c = 0: s = 1 until w = 0.
#pragma once

#include <limits>
#include <vector>

namespace dryclock::reference {

struct Sheet {
  double thickness = 0.0;          // m
  double permeability = 0.0;       // kg/(m s Pa), at 21 C
  double sorption = 0.0;           // kg/m3 at saturation
  double activation_energy = 0.0;  // J/mol
  int cells = 0;
};

// Linear from one to the next; two at the same time make a step.
struct Moment {
  double at = 0.0;  // s
  double air_c = 0.0, humidity = 0.0, panel_c = 0.0;
};

struct Night {
  std::vector<Sheet> sheets;  // from the panel outwards
  double water = 0.0;         // g/m2
  double break_up = 0.0;      // w_c, g/m2
  double dry_below = 0.0;     // g/m2; with w_c = 0 dry means w = 0
  double air_layer = 2.3e-3;  // h_m, m/s
  double start_pa = -1.0;  // the film's vapour pressure at the start; negative: in equilibrium with the air
  std::vector<Moment> air;
};

struct Settings {
  double relative = 1e-8;
  double absolute_pa = 1e-3;
  double absolute_water = 1e-7;    // g/m2
  bool restart_at_moments = true;  // false: the air is interpolated inside the right-hand side
  bool dried_area = true;          // false: the wet column alone, which decides the drying time
};

struct Course {
  double dry_after = std::numeric_limits<double>::infinity();  // s
  std::vector<double> water;                                   // g/m2 at the times asked for
  std::vector<double> film_water;                              // g/m2 in the film, mean of wet and dried area
  std::vector<double>
      outermost;  // Pa in the outermost and the innermost cell of the wet (or, once gone, dry) column
  std::vector<double> innermost;
  long steps = 0;  // CVODE's own count
};

// Times rise and lie within the night's air. Throws std::runtime_error where CVODE gives up.
[[nodiscard]] Course solve(const Night& night, const std::vector<double>& times,
                           const Settings& settings = {});

}  // namespace dryclock::reference
