#include "models/ensemble.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "drying_cases.hpp"
#include "models/lane_loops.hpp"
#include "support/grid.hpp"

using namespace dryclock::models;
using namespace drying_cases;

TEST_SUITE_BEGIN("identities");

// Against the C library's error function. 1e-7 of z is z^2 1e-7 of p in the tails: 1.4e-6 at 3.7 deviations.
TEST_CASE("normal quantile inverts the normal distribution") {
  for (const double p : {1e-4, 0.01, 0.1, 0.25, 0.49, 0.5, 0.51, 0.9, 0.999, 0.9999}) {
    CHECK(0.5 * std::erfc(-normal_quantile(p) / std::sqrt(2.0)) == about(p, 1.5e-6));
  }
  CHECK(normal_quantile(0.5) == 0.0);
  for (const double p : {1e-13, 1e-20, 1e-30}) {  // far out, where z is 7 to 11: z^2 1e-7 is up to 1.4e-5
    CHECK(0.5 * std::erfc(-normal_quantile(p) / std::sqrt(2.0)) == about(p, 1.5e-5));
  }
}

// Tables of the normal distribution, in seven digits. From memory.
TEST_CASE("the normal distribution") {
  CHECK(normal_cdf(0.0) == 0.5);
  CHECK(std::abs(normal_cdf(1.0) - 0.8413447) < 5e-8);
  CHECK(std::abs(normal_cdf(-1.0) - 0.1586553) < 5e-8);
  CHECK(std::abs(normal_cdf(1.96) - 0.9750021) < 5e-8);
  CHECK(std::abs(normal_cdf(-3.0) - 0.0013499) < 5e-8);
}

// Against the C library's exp.
TEST_CASE("exponential of the lanes") {
  double worst = 0.0;
  for (const double x : dryclock::test::grid(-699.0, 699.0, 0.0917)) {
    worst = std::max(worst, std::abs(lane_exp(x) / std::exp(x) - 1.0));
  }
  CHECK(worst < 2e-14);
  CHECK(lane_exp(0.0) == 1.0);
  CHECK(lane_exp(-1e300) < 1e-300);
}

TEST_CASE("every dimension of a draw is spread evenly, and the seed alone decides") {
  const std::vector<Lanes> once = draw_normals(42, 5);
  const std::vector<Lanes> again = draw_normals(42, 5);
  const std::vector<Lanes> other = draw_normals(43, 5);
  CHECK(once == again);
  CHECK(once != other);
  for (const Lanes& row : once) {
    double sum = 0.0, squares = 0.0;
    for (const double z : row) {
      sum += z;
      squares += z * z;
    }
    CHECK(std::abs(sum) < 1e-6);
    CHECK(squares / members == about(1.0, 0.06));
  }
  CHECK(once[0] != once[1]);
}

TEST_CASE("a range gives back its percentiles") {
  const Range range{4.0, 10.0, 25.0};
  CHECK(from_range(range, normal_quantile(0.1)) == about(4.0, 1e-6));
  CHECK(from_range(range, 0.0) == about(10.0, 1e-12));
  CHECK(from_range(range, normal_quantile(0.9)) == about(25.0, 1e-6));
  CHECK(from_range({5.0, 3.0, 1.0}, 2.0) == 3.0);
  CHECK(from_range({}, -1.0) > 0.0);
}

TEST_CASE("weighted quantiles") {
  Lanes values{};
  for (std::size_t m = 0; m < members; ++m) {
    values[m] = static_cast<double>(members - m);
  }
  Weights weights(members, 1.0 / members);
  CHECK(weighted_quantiles(values, weights).likely == about(0.5 * (1.0 + members), 1e-12));
  CHECK(weighted_quantiles(values, weights).low == about(0.1 * members + 0.5, 1e-12));
  CHECK(weighted_quantiles(values, weights).high == about(0.9 * members + 0.5, 1e-12));

  // All weight on one member: its value.
  std::fill(weights.begin(), weights.end(), 0.0);
  weights[5] = 1.0;
  CHECK(weighted_quantiles(values, weights).likely == values[5]);

  // A third never gets there: the late value is never, the likely one is a number.
  std::fill(weights.begin(), weights.end(), 1.0 / members);
  for (std::size_t m = 0; m < members / 3; ++m) {
    values[m] = std::numeric_limits<double>::infinity();
  }
  CHECK(std::isinf(weighted_quantiles(values, weights).high));
  CHECK(std::isfinite(weighted_quantiles(values, weights).likely));
}

TEST_CASE("a mistaken inspection can be undone") {
  Weights weights(members, 1.0 / members);
  Lanes likelihood{};
  likelihood[0] = 1.0;
  for (int i = 0; i < 100; ++i) {
    reweigh(weights, likelihood);
  }
  double sum = 0.0;
  for (const double weight : weights) {
    CHECK(weight > 0.0);
    sum += weight;
  }
  CHECK(sum == about(1.0, 1e-12));
  likelihood = ZoneRun::all(1.0);
  likelihood[0] = 1e-6;
  for (int i = 0; i < 3; ++i) {
    reweigh(weights, likelihood);
  }
  CHECK(weights[0] < 0.01);
}

// A hundredth of an equal share, 0.01/32, is what a member keeps that no finding speaks for; all sum to 1
// again. Assumption: two findings the other way then bring it back.
TEST_CASE("no member loses more than to a hundredth of an equal share") {
  Weights weights(members, 1.0 / members);
  Lanes likelihood{};
  likelihood[0] = 1.0;
  reweigh(weights, likelihood);
  CHECK(weights[1] == about(0.01 / 32.0 / (1.0 + 31.0 * 0.01 / 32.0), 1e-12));
}

TEST_CASE("a range that nobody gave is a milligram on the square metre") {
  CHECK(from_range({}, 0.0) == about(1e-3, 1e-12));
}

TEST_SUITE_END();
