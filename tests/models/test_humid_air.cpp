#include "models/humid_air.hpp"
#include "support/grid.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <limits>

using namespace dryclock::models;

TEST_SUITE_BEGIN("humid_air");

TEST_CASE("dew point and frost point invert saturation over the whole range") {
  for (const double t : dryclock::test::grid(coldest.value(), hottest.value(), 0.37)) {
    CAPTURE(t);
    CHECK(dew_point(saturation_pressure(Celsius{t})).value() == doctest::Approx(t).epsilon(1e-9).scale(100));
  }
  for (const double t : dryclock::test::grid(coldest.value(), 0.0, 0.37)) {
    CAPTURE(t);
    CHECK(frost_point(saturation_pressure_ice(Celsius{t})).value() ==
          doctest::Approx(t).epsilon(1e-9).scale(100));
  }
}

TEST_CASE("ends of the range hold, whatever comes in") {
  CHECK(dew_point(Pascal{0.0}) == coldest);
  CHECK(dew_point(Pascal{-1.0}) == coldest);
  CHECK(dew_point(Pascal{std::numeric_limits<double>::quiet_NaN()}) == coldest);
  CHECK(dew_point(Pascal{1e9}) == hottest);
  CHECK(frost_point(Pascal{1e9}) == Celsius{0.0});
  CHECK(saturation_pressure(Celsius{500.0}) == saturation_pressure(hottest));
  CHECK(vapour_pressure(Celsius{20.0}, Humidity{1.7}) == saturation_pressure(Celsius{20.0}));
  CHECK(vapour_pressure(Celsius{20.0}, Humidity{-0.2}) == Pascal{0.0});
}

TEST_CASE("the slope is the derivative of ln p_sat") {
  for (const double t : dryclock::test::grid(-30.0, 110.0, 7.0)) {
    CAPTURE(t);
    const double up = std::log(saturation_pressure(Celsius{t + 1e-3}).value());
    const double down = std::log(saturation_pressure(Celsius{t - 1e-3}).value());
    CHECK(saturation_slope(Celsius{t}) == doctest::Approx((up - down) / 2e-3).epsilon(1e-7).scale(0.0));
  }
}

TEST_CASE("ice holds less vapour than water below freezing, as much at the triple point") {
  for (const double t : dryclock::test::grid(-40.0, -1.0, 0.5)) {
    CHECK(saturation_pressure_ice(Celsius{t}) < saturation_pressure(Celsius{t}));
  }
  CHECK(saturation_pressure_ice(Celsius{0.0}).value() ==
        doctest::Approx(saturation_pressure(Celsius{0.0}).value()).epsilon(3e-4).scale(0.0));
}

TEST_CASE("air out of range is flagged and clamped, and not-a-number becomes the slow end") {
  Surroundings air{.air = Celsius{21.0}, .humidity = Humidity{0.5}};
  CHECK(out_of_range(air) == valid);
  CHECK(clamped(air).air == air.air);

  air.humidity = Humidity{1.02};
  CHECK(out_of_range(air) == air_out_of_range);
  CHECK(clamped(air).humidity == Humidity{1.0});

  air = {.air = Celsius{-55.0}, .humidity = Humidity{0.5}};
  CHECK(out_of_range(air) == air_out_of_range);
  CHECK(clamped(air).air == coldest);

  const double nan = std::numeric_limits<double>::quiet_NaN();
  air = {.air = Celsius{nan}, .humidity = Humidity{nan}};
  CHECK(out_of_range(air) == air_out_of_range);
  CHECK(clamped(air).air == coldest);
  CHECK(clamped(air).humidity == Humidity{1.0});
}

// ASHRAE2017 gives equation 6 for 0 to 200 C; -40 is as far as it is carried on here, 120 as a panel under a
// lamp comes.
TEST_CASE("temperatures are flagged beyond -40 and 120 C") {
  const auto flagged = [](double celsius) {
    Surroundings air;
    air.air = Celsius{celsius};
    air.humidity = Humidity{0.5};
    return out_of_range(air) != valid;
  };
  CHECK_FALSE(flagged(-40.0));
  CHECK(flagged(-41.0));
  CHECK_FALSE(flagged(120.0));
  CHECK(flagged(121.0));
}

TEST_SUITE_END();
