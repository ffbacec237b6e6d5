// The coupon test: a painted plate with film and a little water under it, edges sealed, weighed for a day
// beside the bay's sensor. Its loss of mass measures the film stack's resistance, which no data sheet gives.
//   m(t) = m_0 - (A/R_21) X(t),   X = Integral f(T) (p_sat(T) - p_air) dt
// so R_21 = A/slope of a straight line through the weighings, X as abscissa.
#pragma once

#include <cstdint>
#include <vector>

#include "models/catalogue.hpp"
#include "models/units.hpp"

namespace dryclock::models {

struct Weighing {
  Seconds at;          // since the film was laid
  double grams = 0.0;  // plate, water and film together
};

// The sensor beside the coupon; the plate is taken to have the air's temperature.
struct CouponAir {
  Seconds at;
  Celsius temperature;
  Humidity humidity;
};

struct CouponTest {
  double area_m2 = 0.09;                // 300 x 300 mm
  double water_grams = 0.9;             // under the film at the start
  std::vector<Weighing> weighings;      // in order of time
  std::vector<CouponAir> air;           // in order of time, covering the weighings
  Seconds settling{3 * 3600.0};         // left out: the film first fills up (90 % after 1.6 h)
  double activation_energy = 13'000.0;  // J/mol, pressure basis
  double still_air = 2.3e-3;            // h_m over the coupon, m/s; taken off the total, known within 50 %
  // Standard uncertainties.
  double balance_grams = 0.01;
  KelvinDifference temperature{0.3};
  double humidity = 0.02;
  double area_relative = 0.03;  // what the sealed edges leave open counts here
};

enum class CouponProblem : std::uint8_t {
  none,
  too_few_weighings,  // fewer than four after settling and before the water runs out
  air_missing,        // the air series does not cover them
  no_loss             // the mass does not fall, or falls less than the balance can tell
};

struct CouponResult {
  CouponProblem problem = CouponProblem::none;  // anything else: the rest means nothing
  Resistance resistance;                        // of the stack at 21 C, without the air layer [m2 s Pa/kg]
  double relative_uncertainty = 0.0;  // standard (k = 1), of the resistance; use it as the spread of ln R
  std::size_t weighings_used = 0;
  std::uint8_t validity = valid;
};

// Weighings count after settling and while at least a quarter of the water is left: below that the layer
// breaks up into patches and the loss slows down.
[[nodiscard]] CouponResult evaluate(const CouponTest& test);

}  // namespace dryclock::models
