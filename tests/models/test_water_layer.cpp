#include "models/water_layer.hpp"

#include <doctest/doctest.h>

#include <cmath>

#include "drying_cases.hpp"
#include "models/humid_air.hpp"
#include "models/solvent.hpp"

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

namespace {

// Activity of the water beside this mole fraction of isopropyl alcohol: ln gamma_w = A21 [A12 x/(A12 x + A21
// x_w)]^2, van Laar with the constants of the handbook (from memory).
constexpr double a12 = 2.4702;
constexpr double a21 = 1.0938;
double van_laar(double alcohol) {
  const double water = 1.0 - alcohol;
  return water * std::exp(a21 * std::pow(a12 * alcohol / (a12 * alcohol + a21 * water), 2));
}
double mole_fraction(double mass_fraction) {
  const double alcohol = mass_fraction / 60.1;
  return alcohol / (alcohol + (1.0 - mass_fraction) / 18.015);
}
// What Raoult's law lacks.
double lacking(double mass_fraction) {
  return van_laar(mole_fraction(mass_fraction)) - water_activity(mass_fraction, 1.0);
}

}  // namespace

TEST_SUITE_BEGIN("published");

TEST_CASE("[Perry1997: van Laar constants] water beside alcohol is more active than Raoult's law says") {
  double last = 0.0;
  for (const double mass_fraction : {0.05, 0.10, 0.15, 0.20, 0.25}) {
    CAPTURE(mass_fraction);
    CHECK(lacking(mass_fraction) > last);
    last = lacking(mass_fraction);
  }
  // By hand at 25 %: x = 0.09085, ln gamma = 1.0938 (0.22442/1.21885)^2 = 0.03708; 0.90915 e^0.03708 =
  // 0.9435.
  CHECK(std::abs(lacking(0.25) - 0.034) < 0.001);
  CHECK(std::abs(lacking(0.50) - 0.15) < 0.005);
  // A tenth of the water gone: 0.25 * 0.9^10 = 0.0872 of alcohol to 0.675 of water, 11.4 %.
  CHECK(std::abs(lacking(0.0872 / (0.0872 + 0.675)) - 0.007) < 0.0005);
}

TEST_CASE(
    "[Perry1997: azeotrope of isopropyl alcohol and water] van Laar's constants boil where they should") {
  // 87.7 % by mass at 80.3 C and 1 atm (from memory): x 0.68, and either side has its own vapour pressure
  // alone. Constants and vapour pressures of handbooks hold to a hundredth or two.
  const double alcohol = mole_fraction(0.877);
  const double gamma_water = van_laar(alcohol) / (1.0 - alcohol);
  const double gamma_alcohol =
      std::exp(a12 * std::pow(a21 * (1.0 - alcohol) / (a12 * alcohol + a21 * (1.0 - alcohol)), 2));
  CHECK(gamma_water * saturation_pressure(Celsius{80.3}).value() == about(101'325.0, 0.02));
  CHECK(gamma_alcohol * isopropanol_vapour_pressure(Celsius{80.3}).value() == about(101'325.0, 0.02));
}

TEST_CASE(
    "[BrunjesBogart1943: x_w 0.9157] measured at the boiling point, water is as active as van Laar says") {
  // 23.5 % by mass at 82.63 C: 50.42 kPa of water over it. Rows side by side scatter by 0.01 to 0.02.
  const double measured = 50.42e3 / saturation_pressure(Celsius{355.78 - 273.15}).value();
  CHECK(1.0 - mole_fraction(0.2350) == about(0.9157, 1e-3));
  CHECK(std::abs(measured - van_laar(mole_fraction(0.2350))) < 0.02);
}

TEST_SUITE_END();
