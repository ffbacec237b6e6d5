#include "models/coupon.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <random>

#include "models/humid_air.hpp"

using namespace dryclock::models;

namespace {

constexpr double air_layer = 461.5 * 294.15 / 2.3e-3;

// A day of weighings every quarter of an hour, the loss by hand: A (p_sat - p_air)/R, f(T) = exp(-E/R_g (1/T
// - 1/T_21)), after a transient that the film's storage makes at the start.
CouponTest day(double resistance, double celsius, double humidity, double swing_k = 0.0) {
  CouponTest test;
  double grams = 812.40;
  const double minute = 60.0;
  for (int m = 0; m <= 24 * 60; ++m) {
    const double t = celsius + swing_k * std::sin(2 * 3.14159265 * m / 1440.0);
    test.air.push_back({Seconds{m * minute}, Celsius{t}, Humidity{humidity}});
    if (m % 15 == 0) {
      test.weighings.push_back({Seconds{m * minute}, grams});
    }
    const double f = std::exp(-13'000.0 / 8.314462618 * (1 / (t + 273.15) - 1 / 294.15));
    const double filling = 1.0 - std::exp(-m / 42.0);  // 90 % after 96 min
    grams -= 1000.0 * test.area_m2 * f * saturation_pressure(Celsius{t}).value() * (1 - humidity) /
             (resistance + air_layer) * filling * minute;
  }
  return test;
}

}  // namespace

TEST_SUITE_BEGIN("coupon");

TEST_CASE("the resistance that made the weighings is found again") {
  for (const double resistance : {3e9, 5.33e9, 2e10}) {
    for (const double swing : {0.0, 3.0}) {
      CAPTURE(resistance);
      CAPTURE(swing);
      const auto result = evaluate(day(resistance, 22.0, 0.45, swing));
      REQUIRE(result.problem == CouponProblem::none);
      CHECK(result.resistance.value() == doctest::Approx(resistance).epsilon(0.01));
      CHECK(result.validity == valid);
    }
  }
}

TEST_CASE("a careful coupon of a usual film is good for better than 12 %") {
  const auto result = evaluate(day(5.33e9, 21.0, 0.5));
  REQUIRE(result.problem == CouponProblem::none);
  CHECK(result.relative_uncertainty < 0.12);
  CHECK(result.relative_uncertainty > 0.04);  // the humidity sensor alone: 0.02/0.5
}

TEST_CASE("the uncertainty covers what balance, sensor and area really do") {
  std::mt19937_64 random{7};
  std::normal_distribution<double> normal;
  int covered = 0;
  const int tries = 400;
  for (int i = 0; i < tries; ++i) {
    auto test = day(5.33e9, 21.0, 0.5);
    const double temperature = 0.3 * normal(random), humidity = 0.02 * normal(random);
    const double area = 1.0 + 0.03 * normal(random);
    for (auto& w : test.weighings) {
      w.grams = 812.40 + (w.grams - 812.40) * area + 0.01 * normal(random);
    }
    for (auto& a : test.air) {
      a.temperature = a.temperature + KelvinDifference{temperature};
      a.humidity = a.humidity + Humidity{humidity};
    }
    const auto result = evaluate(test);
    REQUIRE(result.problem == CouponProblem::none);
    covered += std::abs(result.resistance.value() / 5.33e9 - 1.0) < 2.0 * result.relative_uncertainty;
  }
  // 95 % at k = 2; four standard deviations of the count below and above.
  CHECK(covered > tries * 0.95 - 4 * std::sqrt(tries * 0.95 * 0.05));
}

TEST_CASE("weighings after three quarters of the water have gone do not count") {
  const auto test = day(5e8, 25.0, 0.4);
  const auto result = evaluate(test);
  CHECK(result.problem == CouponProblem::too_few_weighings);
  CHECK(result.weighings_used < 4);
}

TEST_CASE("what cannot be evaluated says why") {
  CHECK(evaluate({}).problem == CouponProblem::too_few_weighings);

  auto short_air = day(5e9, 21.0, 0.5);
  short_air.air.resize(5 * 60);
  CHECK(evaluate(short_air).problem == CouponProblem::air_missing);

  auto flat = day(5e9, 21.0, 0.5);
  for (auto& w : flat.weighings) {
    w.grams = 812.40;
  }
  CHECK(evaluate(flat).problem == CouponProblem::no_loss);

  auto saturated = day(5e9, 21.0, 0.5);
  for (auto& a : saturated.air) {
    a.humidity = Humidity{1.0};
  }
  CHECK(evaluate(saturated).problem == CouponProblem::no_loss);
}

TEST_SUITE_END();
