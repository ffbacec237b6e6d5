#include "models/salts.hpp"
#include "support/grid.hpp"

#include <doctest/doctest.h>

#include <limits>

using namespace dryclock::models;

TEST_SUITE_BEGIN("salts");

TEST_CASE("outside a salt's range there is no fixed point") {
  CHECK_FALSE(oiml_fixed_point(Salt::sodium_chloride, Celsius{4.9}));
  CHECK_FALSE(oiml_fixed_point(Salt::sodium_chloride, Celsius{50.1}));
  CHECK_FALSE(oiml_fixed_point(Salt::potassium_carbonate, Celsius{30.1}));
  CHECK_FALSE(oiml_fixed_point(Salt::sodium_chloride, Celsius{std::numeric_limits<double>::quiet_NaN()}));
  CHECK_FALSE(greenspan_fixed_point(Salt::potassium_carbonate, Celsius{20.0}));
  CHECK_FALSE(check_sensor(Salt::sodium_chloride, Celsius{-5.0}, Humidity{0.75}));
}

TEST_CASE("between two temperatures of the table the larger uncertainty holds") {
  const auto between = oiml_fixed_point(Salt::magnesium_chloride, Celsius{17.5});
  REQUIRE(between);
  CHECK(between->humidity.value() == doctest::Approx(0.332).scale(0.0));
  CHECK(between->expanded == doctest::Approx(0.003).scale(0.0));
}

TEST_CASE("disagreement between the two sources widens the uncertainty") {
  for (const double t : dryclock::test::grid(10.0, 40.0, 1.0)) {
    const auto oiml = oiml_fixed_point(Salt::potassium_chloride, Celsius{t});
    const auto both = expected_humidity(Salt::potassium_chloride, Celsius{t});
    REQUIRE(both);
    CHECK(both->humidity == oiml->humidity);
    CHECK(both->expanded >= oiml->expanded);
  }
}

TEST_CASE("a sensor check weighs the sensor's tolerance and the jar's own uncertainty") {
  const Celsius t{25.0};
  const auto good = check_sensor(Salt::sodium_chloride, t, Humidity{0.765});
  REQUIRE(good);
  CHECK(good->deviation == doctest::Approx(0.012).scale(0.0));
  CHECK(good->verdict == SensorVerdict::agrees);
  // Uneven by 0.2 K: 0.753 x 6 %/K x 0.2 K, twice.
  CHECK(good->expected.expanded == doctest::Approx(2 * 0.753 * 0.0597 * 0.2).epsilon(0.03).scale(0.0));
  // What makers state of a sensor, 2 %RH, on both sides of itself: 75.3 + 1.9 and 75.3 + 2.15.
  CHECK(check_sensor(Salt::sodium_chloride, t, Humidity{0.772})->verdict == SensorVerdict::agrees);
  CHECK(check_sensor(Salt::sodium_chloride, t, Humidity{0.7745})->verdict == SensorVerdict::doubtful);
  CHECK(check_sensor(Salt::sodium_chloride, t, Humidity{0.78})->verdict == SensorVerdict::doubtful);
  CHECK(check_sensor(Salt::sodium_chloride, t, Humidity{0.72})->verdict == SensorVerdict::doubtful);
  CHECK(check_sensor(Salt::sodium_chloride, t, Humidity{0.82})->verdict == SensorVerdict::off);
  CHECK(check_sensor(Salt::sodium_chloride, t, Humidity{0.78}, 0.02, KelvinDifference{0.0})->verdict ==
        SensorVerdict::off);
}

// models/SOURCES.md: Greenspan's polynomials are used from 10 to 40 C.
TEST_CASE("the second opinion is asked from 10 to 40 C") {
  for (const double t : {10.0, 25.0, 40.0}) {
    CHECK(greenspan_fixed_point(Salt::sodium_chloride, Celsius{t}).has_value());
  }
  for (const double t : {9.5, 41.0}) {
    CHECK_FALSE(greenspan_fixed_point(Salt::sodium_chloride, Celsius{t}).has_value());
  }
}

TEST_SUITE_END();
