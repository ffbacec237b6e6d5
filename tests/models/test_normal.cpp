#include "models/normal.hpp"

#include <doctest/doctest.h>

#include <cmath>

#include "drying_cases.hpp"
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

TEST_CASE("the quick one is within 5e-7, never falls, and ends at 0 and 1") {
  const QuickNormal& quick = QuickNormal::table();
  double worst = 0.0, last = 0.0;
  bool falls = false;
  for (const double z : dryclock::test::grid(-8.0, 8.0, 0.000917)) {
    const double here = quick.below(z);
    worst = std::max(worst, std::abs(here - normal_cdf(z)));
    falls = falls || here < last;
    last = here;
  }
  CHECK(worst < 5e-7);
  CHECK_FALSE(falls);
  CHECK(quick.below(INFINITY) == 1.0);
  CHECK(quick.below(-INFINITY) == 0.0);
  CHECK(quick.below(NAN) == 0.0);  // nothing is credited to what is not a number
}

TEST_SUITE_END();
