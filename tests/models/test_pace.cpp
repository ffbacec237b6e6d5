#include "models/pace.hpp"

#include <doctest/doctest.h>

#include "drying_cases.hpp"

using namespace dryclock::models;
using namespace drying_cases;

TEST_SUITE_BEGIN("identities");

// By hand from theta (1 - a)/0.5 with E = 13 kJ/mol; printed to two figures.
TEST_CASE("pace of usual bays") {
  CHECK(pace(Celsius{21.0}, Celsius{21.0}, Humidity{0.5}) == about(1.0, 1e-12));
  CHECK(std::abs(pace(Celsius{16.0}, Celsius{16.0}, Humidity{0.65}) - 0.47) < 0.005);
  CHECK(std::abs(pace(Celsius{10.0}, Celsius{10.0}, Humidity{0.80}) - 0.16) < 0.005);
  CHECK(std::abs(pace(Celsius{25.0}, Celsius{25.0}, Humidity{0.40}) - 1.64) < 0.005);
  // A night of 14 h at 16 C and 65 % is 6.5 standard hours.
  CHECK(std::abs(14.0 * pace(Celsius{16.0}, Celsius{16.0}, Humidity{0.65}) - 6.5) < 0.05);
}

// The panel against the air at 21 C and 50 %RH: -5 K 0.46, -3 K 0.66, +3 K 1.40 of the rate (by hand, E on
// the pressure basis, two figures).
TEST_CASE("the panel's temperature counts, not the air's") {
  const auto at = [](double panel) { return pace(Celsius{panel}, Celsius{21.0}, Humidity{0.5}, 0.0); };
  CHECK(std::abs(at(16.0) - 0.46) < 0.005);
  CHECK(std::abs(at(18.0) - 0.66) < 0.005);
  CHECK(std::abs(at(24.0) - 1.40) < 0.005);
  CHECK(at(5.0) < 0.0);
}

// What models/README.md leaves out, in a steady state by hand: 10 g/m2 leave at 0.83 g/(m2 h) at 21 C and 50
// %RH (CVODE: 7.9485 g/m2 after 2 h, 4.6264 after 6), each gram takes 2450 J, and 8 W/(m2 K) bring it from
// the air: 0.0706 K. The pace falls by its slope: (0.0181 + 0.0614/0.5)/K of film and vapour, 13 and 44.1
// kJ/mol over R T^2.
TEST_CASE("cooling by evaporation, left out, would take a hundredth off the pace") {
  const double cooler = (7.9485 - 4.6264) / 4.0 * 2450.0 / 3600.0 / PanelThermal{}.transfer.value();
  CHECK(std::abs(cooler - 0.07) < 0.005);
  const double cooled = pace(Celsius{21.0 - cooler}, Celsius{21.0}, Humidity{0.5});
  CHECK(std::abs(1.0 - cooled - cooler * (0.0181 + 0.0614 / 0.5)) < 1e-4);
  CHECK(std::abs(1.0 - cooled - 0.01) < 0.001);
}

TEST_CASE("activity at the panel is 1 at the dew point") {
  CHECK(activity_at_panel(Celsius{10.19}, Celsius{21.0}, Humidity{0.5}) == about(1.0, 1e-3));
  CHECK(activity_at_panel(Celsius{21.0}, Celsius{21.0}, Humidity{0.5}) == about(0.5, 1e-12));
}

TEST_SUITE_END();
