#include "models/water_layer.hpp"

#include <doctest/doctest.h>

#include <cmath>

#include "drying_cases.hpp"

using namespace dryclock::models;
using namespace drying_cases;

TEST_SUITE_BEGIN("identities");

TEST_CASE("the coordinate turns dw/dtau = -s J into a straight line") {
  const WaterLayer layer{GramsPerSquareMetre{1.5}, GramsPerSquareMetre{0.05}};
  // Forty thousand small steps of the equation itself, against one long one.
  double water = 4.0;
  const double flux = 1.0 / 3600.0;
  for (int i = 0; i < 40'000; ++i) {
    const double middle = water - 0.5 * flux * std::min(1.0, water / 1.5);
    water -= flux * std::min(1.0, middle / 1.5);
  }
  CHECK(layer.water(layer.coordinate(4.0) - flux * 40'000) == about(water, 1e-6));
  for (const double w : {1e-6, 0.05, 1.4999, 1.5, 1.5001, 30.0}) {
    CHECK(layer.water(layer.coordinate(w)) == about(w, 1e-12));
  }
}

TEST_CASE("without break-up, dry is the end of the liquid") {
  const WaterLayer layer{GramsPerSquareMetre{0.0}, GramsPerSquareMetre{0.05}};
  CHECK(layer.break_up == 1e-3);  // 1 mg/m2, a nanometre: as good as nothing
  CHECK(std::abs(layer.coordinate(layer.dry_limit)) < 1e-15);
  CHECK(layer.water(-0.1) < 1e-30);
}

// L^2 = 2 D (rho_sat - rho_air) t/rho_w by hand: 21 C, 50 %RH: D 2.4905e-5 m2/s, 9.164 g/m3 missing, 998
// kg/m3.
TEST_CASE("water recedes from an open margin by the square root of time") {
  const double rate = front_rate(Celsius{21.0}, Celsius{21.0}, Humidity{0.5});
  CHECK(rate == about(2.0 * 2.4905e-5 * 9.164e-3 / 998.0, 1e-3));
  const auto hours = [&](double metres) { return metres * metres / rate / 3600.0; };
  CHECK(hours(0.002) == about(2.4, 0.02));
  CHECK(hours(0.005) == about(15.2, 0.01));
  CHECK(hours(0.010) == about(61.0, 0.01));
  CHECK(front_rate(Celsius{5.0}, Celsius{25.0}, Humidity{0.9}) == 0.0);
}

TEST_CASE("alcohol lowers the water's activity until it has gone") {
  // 20 % by mass: 0.8/18.015 mol of water to 0.2/60.1 mol of alcohol.
  CHECK(water_activity(0.2, 1.0) == about(0.04441 / (0.04441 + 0.003328), 1e-3));
  CHECK(water_activity(0.0, 1.0) == 1.0);
  // Assumption: alcohol goes as the tenth power of the water. At 0.9 of the water: 0.2 * 0.9^10 = 0.06974 of
  // alcohol, so 0.72/18.015 = 0.039967 mol to 0.0011603 mol.
  CHECK(water_activity(0.2, 0.9) == about(0.039967 / (0.039967 + 0.0011603), 1e-4));
  CHECK(water_activity(0.8, 1.0) == water_activity(0.5, 1.0));  // half at most: nobody sprays more
  CHECK(water_activity(0.5, 1.0) < water_activity(0.48, 1.0));
  double last = 0.0;
  for (const double left : {1.0, 0.95, 0.9, 0.8, 0.5, 0.1, 0.0}) {
    CHECK(water_activity(0.25, left) >= last);
    last = water_activity(0.25, left);
  }
  CHECK(last == 1.0);
}

TEST_SUITE_END();
