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

TEST_CASE("activity at the panel is 1 at the dew point") {
  CHECK(activity_at_panel(Celsius{10.19}, Celsius{21.0}, Humidity{0.5}) == about(1.0, 1e-3));
  CHECK(activity_at_panel(Celsius{21.0}, Celsius{21.0}, Humidity{0.5}) == about(0.5, 1e-12));
}

TEST_SUITE_END();
