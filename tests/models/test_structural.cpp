#include "models/structural.hpp"

#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <functional>
#include <numbers>
#include <vector>

#include "bench/crps.hpp"
#include "drying_cases.hpp"
#include "models/normal.hpp"

using namespace dryclock::models;
using drying_cases::about;

namespace {

const Motion over_an_hour{1.0};

// A value's filter with its parts, from values by the hour; NaN: none came.
struct Follower {
  explicit Follower(const Shares& shares) : filter(shares) {}
  void go_on() {
    filter.pass(over_an_hour);
    parts = over_an_hour.moved(parts);
  }
  void see(double value) {
    const auto taught = filter.see();
    const double missed = value - product(value_row, parts);
    for (std::size_t i = 0; i < parts.size(); ++i) {
      parts[i] += taught.gain[i] * missed;
    }
    log_likelihood -=
        0.5 * (std::log(2.0 * std::numbers::pi * taught.variance) + missed * missed / taught.variance);
  }
  StructuralFilter filter;
  Parts parts{};
  double log_likelihood = 0.0;
};

// What is not known of P after it was pushed on by phi and q and seen with noise r, over and over: the
// positive root of p^2 + p (r - phi^2 r - q) - q r = 0 (the steady Riccati equation of one number).
double steady_before_value(double phi2, double q, double r) {
  const double half = 0.5 * (r - phi2 * r - q);
  return -half + std::sqrt(half * half + q * r);
}

}  // namespace

TEST_SUITE_BEGIN("published");

// Annual flow of the Nile at Aswan, 1871 to 1970 (10^8 m3), a local level with the variances that Durbin and
// Koopman fit: 15099 of a value, 1469.1 of the level's step. Data, variances, the level of 1970, its variance
// and the log-likelihood are from memory; that of the first value counts for nothing, its level being
// unknown.
TEST_CASE("the level of the Nile [DurbinKoopman2012: section 2.2, table 2.1 and figure 2.1]") {
  constexpr std::array nile{
      1120, 1160, 963,  1210, 1160, 1160, 813,  1230, 1370, 1140, 995,  935,  1110, 994, 1020, 960,  1180,
      799,  958,  1140, 1100, 1210, 1150, 1250, 1260, 1220, 1030, 1100, 774,  840,  874, 694,  940,  833,
      701,  916,  692,  1020, 1050, 969,  831,  726,  456,  824,  702,  1120, 1100, 832, 764,  821,  768,
      845,  864,  862,  698,  845,  744,  796,  1040, 759,  781,  865,  845,  944,  984, 897,  822,  1010,
      771,  676,  649,  846,  812,  742,  801,  1040, 860,  874,  848,  890,  744,  749, 838,  1050, 918,
      986,  797,  923,  975,  815,  1020, 906,  901,  1170, 912,  746,  919,  718,  714, 740};
  static_assert(nile.size() == 100);
  Follower level(Shares{.level = 1e9, .level_step = 1469.1, .noise = 15099.0});
  for (std::size_t year = 0; year < nile.size(); ++year) {
    if (year > 0) level.go_on();
    level.see(nile[year]);
    if (year == 0) level.log_likelihood = 0.0;
  }
  CHECK(level.parts[0] == about(798.37, 1e-5));
  CHECK(level.filter.variance({1.0}) == about(4032.16, 1e-4));
  CHECK(std::abs(level.log_likelihood + 632.54) < 0.01);
}

TEST_SUITE_END();
TEST_SUITE_BEGIN("identities");

TEST_CASE("what one part's filter does not know settles where Riccati's equation says") {
  for (const double noise : {0.004, 0.1, 2.0}) {
    Follower fast(Shares{.level = 0.0, .fast = 1.0, .noise = noise});
    for (int hour = 0; hour < 400; ++hour) {
      fast.go_on();
      fast.see(0.0);
    }
    fast.go_on();
    const double phi2 = std::exp(-2.0 / fast_lasts);
    const double expected = steady_before_value(phi2, 1.0 - phi2, noise);
    CHECK(fast.filter.variance(value_row) == about(expected, 1e-10));
    CHECK(fast.filter.see().gain[3] == about(expected / (expected + noise), 1e-10));
  }
}

namespace {

// How two values are correlated, straight from what the parts are said to be.
double covariance(const Shares& s, double from, double to) {
  const double apart = std::abs(from - to);
  const auto turn = [&](double j) { return std::cos(2.0 * std::numbers::pi * j * apart / 24.0); };
  return s.level + s.level_step * std::min(from, to) + s.slow * std::exp(-apart / slow_lasts) +
         s.medium * std::exp(-apart / medium_lasts) + s.fast * std::exp(-apart / fast_lasts) +
         std::exp(-apart / waves_last) * (s.daily * turn(1.0) + s.half_daily * turn(2.0)) +
         (apart == 0.0 ? s.noise : 0.0);
}

// Solves a x = b by elimination with pivots of the largest size.
std::vector<double> solved(std::vector<std::vector<double>> a, std::vector<double> b) {
  const std::size_t n = b.size();
  for (std::size_t k = 0; k < n; ++k) {
    std::size_t best = k;
    for (std::size_t r = k + 1; r < n; ++r) {
      if (std::abs(a[r][k]) > std::abs(a[best][k])) best = r;
    }
    std::swap(a[k], a[best]);
    std::swap(b[k], b[best]);
    for (std::size_t r = k + 1; r < n; ++r) {
      const double share = a[r][k] / a[k][k];
      for (std::size_t c = k; c < n; ++c) {
        a[r][c] -= share * a[k][c];
      }
      b[r] -= share * b[k];
    }
  }
  for (std::size_t k = n; k-- > 0;) {
    for (std::size_t c = k + 1; c < n; ++c) {
      b[k] -= a[k][c] * b[c];
    }
    b[k] /= a[k][k];
  }
  return b;
}

}  // namespace

// A normal vector's conditional mean and variance by its covariance matrix, with no filter in it.
TEST_CASE("mean and spread ahead, and of a sum, are those of the normal distribution, across a hole too") {
  const Shares shares{.level = 4.0,
                      .level_step = 0.01,
                      .slow = 0.2,
                      .medium = 0.3,
                      .fast = 0.2,
                      .daily = 0.25,
                      .half_daily = 0.1,
                      .noise = 0.02};
  std::vector<double> hours, values;
  Follower follower(shares);
  for (int hour = 0; hour < 60; ++hour) {
    if (hour > 0) follower.go_on();
    if (hour >= 20 && hour < 31) continue;
    hours.push_back(hour);
    values.push_back(std::sin(0.3 * hour) + 0.1 * (hour * 7 % 5));
    follower.see(values.back());
  }
  std::vector<std::vector<double>> among(hours.size());
  for (std::size_t i = 0; i < hours.size(); ++i) {
    for (const double other : hours) {
      among[i].push_back(covariance(shares, hours[i], other));
    }
  }
  constexpr std::size_t farthest = 72;
  const Leads ahead = leads(farthest);
  const double now = hours.back();
  std::vector<double> sum_with(hours.size(), 0.0);
  double sum_own = 0.0;
  const StructuralFilter& filter = follower.filter;
  for (std::size_t lead = 1; lead <= farthest; ++lead) {
    const double then = now + static_cast<double>(lead);
    std::vector<double> with;
    for (std::size_t i = 0; i < hours.size(); ++i) {
      with.push_back(covariance(shares, hours[i], then));
      sum_with[i] += with.back();
    }
    for (std::size_t other = 1; other < lead; ++other) {
      sum_own += 2.0 * covariance(shares, now + static_cast<double>(other), then);
    }
    sum_own += covariance(shares, then, then);
    if (lead % 12 != 0 && lead != 1) continue;
    CAPTURE(lead);
    const auto conditional = [&](const std::vector<double>& covariances, double own) {
      const auto weights = solved(among, covariances);
      double mean = 0.0, variance = own;
      for (std::size_t i = 0; i < weights.size(); ++i) {
        mean += weights[i] * values[i];
        variance -= weights[i] * covariances[i];
      }
      return std::pair{mean, variance};
    };
    const auto [mean, variance] = conditional(with, covariance(shares, then, then));
    CHECK(std::abs(product(ahead.value[lead], follower.parts) - mean) < 1e-9);
    CHECK(filter.variance(ahead.value[lead]) + product(filter.renewed(), ahead.value_new[lead]) +
              filter.noise() ==
          about(variance, 1e-9));
    const auto [sum, sum_variance] = conditional(sum_with, sum_own);
    CHECK(std::abs(product(ahead.sum[lead], follower.parts) - sum) < 1e-8);
    CHECK(filter.variance(ahead.sum[lead]) + product(filter.renewed(), ahead.sum_new[lead]) +
              static_cast<double>(lead) * filter.noise() ==
          about(sum_variance, 1e-9));
  }
}

TEST_CASE("two halves of an hour are an hour, and pulling a row is moving the parts") {
  const Parts some{1.0, -2.0, 0.5, 3.0, 0.7, -0.3, 0.2, 1.1};
  const Motion half{0.5};
  const Parts twice = half.moved(half.moved(some)), once = over_an_hour.moved(some);
  for (std::size_t i = 0; i < some.size(); ++i) {
    CHECK(twice[i] == about(once[i], 1e-12));
  }
  CHECK(product(over_an_hour.pulled(value_row), some) == about(product(value_row, once), 1e-12));
}

// Its definition is the integral of (F - [y <= x])^2 over x.
TEST_CASE("the score of a normal forecast is the integral that defines it; of one value its error") {
  for (const double came : {-3.0, 0.2, 1.0}) {
    constexpr double mean = 0.5, spread = 1.7, step = 1e-3;
    double sum = 0.0;
    for (int i = -20'000; i < 20'000; ++i) {
      const double x = (i + 0.5) * step;
      sum += step * std::pow(normal_cdf((x - mean) / spread) - (came <= x ? 1.0 : 0.0), 2);
    }
    CHECK(dryclock::bench::crps(mean, spread, came) == about(sum, 1e-4));
    CHECK(dryclock::bench::crps({{mean, 1.0}}, came) == about(std::abs(came - mean), 1e-12));
  }
  // Of two values half and half, by the definition: a quarter of what lies between them.
  CHECK(dryclock::bench::crps({{0.0, 0.5}, {1.0, 0.5}}, 0.4) == about(0.25, 1e-12));
}

TEST_SUITE_END();
