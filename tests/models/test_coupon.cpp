#include "models/coupon.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <random>

#include "models/humid_air.hpp"
#include "models/laid_piece.hpp"

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

TEST_CASE("far from 21 C the film's activation energy counts: at 35 C it lets through 27 % more") {
  // exp(13000/8.3145 (1/294.15 - 1/308.15)) = exp(0.2415) = 1.273, in day() and in evaluate() alike.
  const auto result = evaluate(day(2e10, 35.0, 0.45));
  REQUIRE(result.problem == CouponProblem::none);
  CHECK(result.resistance.value() == doctest::Approx(2e10).epsilon(0.01));
}

TEST_CASE("four weighings are enough, three are not") {
  auto test = day(5.33e9, 21.0, 0.5);
  const auto all = test.weighings;
  test.weighings = {all[0], all[14], all[20], all[26], all[32]};  // the first is before 3 h
  CHECK(evaluate(test).problem == CouponProblem::none);
  CHECK(evaluate(test).weighings_used == 4);
  test.weighings.pop_back();
  CHECK(evaluate(test).problem == CouponProblem::too_few_weighings);
}

// 0.9 g, 10 g/m2 on 0.3 m x 0.3 m; of them 0.675 g may go; the film has filled to 90 % after 1.6 h, and twice
// that is 3 h.
TEST_CASE("weighings count from three hours on until three quarters of 0.9 g are gone") {
  const auto test = day(3e9, 22.0, 0.45);
  const auto counts = std::count_if(test.weighings.begin(), test.weighings.end(), [](const Weighing& w) {
    return w.at.value() >= 3 * 3600.0 && w.grams >= 812.40 - 0.675;
  });
  CHECK(counts > 5);
  CHECK(evaluate(test).weighings_used == static_cast<std::size_t>(counts));
  CHECK(CouponTest{}.area_m2 == doctest::Approx(0.3 * 0.3));
  CHECK(CouponTest{}.still_air == LaidSpec{}.air_layer_coefficient);
}

// At 21 C and 50 %RH: humidity 0.02/0.5, temperature 0.3 K (0.0618 of p_sat + 0.0181 of the film)/K, area
// 0.03; the air layer is 1.1 % of the film's resistance, known within half of it.
TEST_CASE("what makes the uncertainty, one by one") {
  const auto relative = [](auto only) {
    auto test = day(5.33e9, 21.0, 0.5);
    const CouponTest usual;
    test.balance_grams = 1e-9;
    test.temperature = KelvinDifference{0.0};
    test.humidity = test.area_relative = 0.0;
    only(test, usual);
    const auto result = evaluate(test);
    REQUIRE(result.problem == CouponProblem::none);
    return result.relative_uncertainty;
  };
  const double none = relative([](CouponTest&, const CouponTest&) {});
  const auto alone = [&](auto only) {
    const double with = relative(only);
    return std::sqrt(with * with - none * none) / (1.0 + air_layer / 5.33e9);
  };
  CHECK(none == doctest::Approx(0.5 * air_layer / 5.33e9).epsilon(0.05).scale(0.0));
  CHECK(alone([](CouponTest& t, const CouponTest& u) { t.humidity = u.humidity; }) ==
        doctest::Approx(0.040).epsilon(0.01).scale(0.0));
  CHECK(alone([](CouponTest& t, const CouponTest& u) { t.temperature = u.temperature; }) ==
        doctest::Approx(0.3 * 0.0799).epsilon(0.01).scale(0.0));
  CHECK(alone([](CouponTest& t, const CouponTest& u) { t.area_relative = u.area_relative; }) ==
        doctest::Approx(0.03).epsilon(0.01).scale(0.0));
  // A balance good for 10 mg, n weighings a quarter of an hour apart while 74.9 mg leave an hour:
  // sxx = n (n^2 - 1)/12 (0.25 h)^2.
  const double n = static_cast<double>(evaluate(day(5.33e9, 21.0, 0.5)).weighings_used);
  const double hours = 0.25 * std::sqrt(n * (n * n - 1.0) / 12.0);
  CHECK(alone([](CouponTest& t, const CouponTest& u) { t.balance_grams = u.balance_grams; }) ==
        doctest::Approx(0.010 / hours / 0.0749).epsilon(0.03).scale(0.0));
}

TEST_SUITE_END();
