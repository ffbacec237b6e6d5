#include "models/inspection.hpp"

#include <doctest/doctest.h>

#include <array>
#include <cmath>

#include "drying_cases.hpp"

using namespace dryclock::models;
using drying_cases::about;

namespace {

// What the finding is worth once the share of mistakes, 0.05, is taken off. [0..1]
double seen(Sign sign, double water) {
  return (sight(sign, water, 1.0) - 0.05) / 0.95;
}

}  // namespace

TEST_SUITE_BEGIN("practice");

// Common practice, no source: a fifth of a micrometre under clear film shows no more, three show as wet.
TEST_CASE("0.2 g/m2 look clear and 3 g/m2 look wet as likely as not") {
  CHECK(seen(Sign::clear, 0.2) == about(0.5, 1e-9));
  CHECK(seen(Sign::clear, 0.18) > 0.5);
  CHECK(seen(Sign::clear, 0.22) < 0.5);
  CHECK(seen(Sign::wet, 3.0) == about(0.5, 1e-9));
  CHECK(seen(Sign::wet, 2.7) < 0.5);
  CHECK(seen(Sign::wet, 3.3) > 0.5);
}

// Assumptions, no source: an edge of which a third is wet lifts as likely as not; a share is called by the
// nearest of four words.
TEST_CASE("the bounds between signs are as likely one as the other") {
  const auto right = [](Sign sign, double share) { return (share_sight(sign, share) - 0.05) / 0.95; };
  CHECK(right(Sign::held, 0.3) == about(0.5, 1e-9));
  CHECK(right(Sign::held, 0.15) == about(1.0 / (1.0 + std::exp(-1.7)), 1e-9));
  CHECK(right(Sign::none_wet, 0.03) == about(0.5, 1e-9));
  CHECK(right(Sign::none_wet, 0.25) + right(Sign::tenth_wet, 0.25) == about(0.5, 1e-9));
  CHECK(right(Sign::mostly_wet, 0.75) == about(0.5, 1e-9));
}

// Common practice, no source: of twenty findings one is not what it looks like.
TEST_CASE("a finding that cannot be is still one in twenty") {
  CHECK(sight(Sign::clear, 1e6, 1.0) == about(0.05, 1e-9));
  CHECK(sight(Sign::wet, 1e-6, 1.0) == about(0.05, 1e-9));
  CHECK(share_sight(Sign::none_wet, 1.0) == about(0.05, 1e-9));
  CHECK(share_sight(Sign::held, 1e9) == about(0.05, 1e-9));
}

TEST_SUITE_END();
TEST_SUITE_BEGIN("identities");

// A factor of two is one standard deviation of what the eye makes of the water. The logistic curve with 1.7
// is the normal distribution to within 0.01 (its best factor is 1.702, which misses by 0.0095); with 2.0 it
// would miss by 0.04.
TEST_CASE("a trained eye's threshold is normal in the water's logarithm, a factor of two wide") {
  for (const double doublings : std::array{-2.5, -1.5, -1.0, -0.5, 0.5, 1.0, 1.5, 2.5}) {
    CAPTURE(doublings);
    const double normal = 0.5 * std::erfc(-doublings / std::sqrt(2.0));
    CHECK(std::abs(seen(Sign::wet, 3.0 * std::exp2(doublings)) - normal) < 0.01);
    CHECK(std::abs(seen(Sign::clear, 0.2 * std::exp2(-doublings)) - normal) < 0.01);
  }
}

TEST_CASE("film that lifts says nothing of its water") {
  CHECK(sign_of(Finding::lifting) == std::nullopt);
  CHECK(sign_of(Finding::hazy) == Sign::hazy);
}

TEST_CASE("what is neither clear nor wet is hazy") {
  for (const double water : {0.05, 0.2, 0.8, 3.0, 10.0}) {
    CHECK(seen(Sign::clear, water) + seen(Sign::hazy, water) + seen(Sign::wet, water) == about(1.0, 1e-9));
  }
}

TEST_CASE("what was counted is one of four, whatever is wet") {
  for (const double share : {0.0, 0.01, 0.03, 0.1, 0.25, 0.5, 0.75, 0.9, 1.0}) {
    double sum = 0.0;
    for (const Sign sign : {Sign::none_wet, Sign::tenth_wet, Sign::half_wet, Sign::mostly_wet}) {
      sum += (share_sight(sign, share) - 0.05) / 0.95;
    }
    CHECK(sum == about(1.0, 1e-9));
    CHECK(share_sight(Sign::held, share) + share_sight(Sign::lifted, share) ==
          about(2.0 * 0.05 + 0.95, 1e-9));
  }
}

// Odds read within a factor of 1.6 one time in three: ln odds are normal with 0.5, and a logistic of 1.7 is
// the normal distribution to within 0.01.
TEST_CASE("a counted share is normal in the logarithm of its odds") {
  for (const double away : {-1.5, -0.5, 0.0, 0.5, 1.5}) {
    const double odds = 0.25 / 0.75 * std::exp(0.5 * away);
    const double normal = 0.5 * std::erfc(away / std::sqrt(2.0));
    const double share = odds / (1.0 + odds);
    const double below_quarter =
        (share_sight(Sign::none_wet, share) + share_sight(Sign::tenth_wet, share) - 2.0 * 0.05) / 0.95;
    CHECK(std::abs(below_quarter - normal) < 0.01);
  }
}

TEST_CASE("a sign of one sort says nothing as another") {
  CHECK(share_sight(Sign::clear, 0.1) == share_sight(Sign::clear, 0.9));
  CHECK(sight(Sign::held, 0.1, 1.0) == sight(Sign::held, 10.0, 1.0));
  CHECK(sort_of(Sign::hazy) == SignSort::eye);
  CHECK(sort_of(Sign::lifted) == SignSort::hold);
  CHECK(sort_of(Sign::mostly_wet) == SignSort::count);
}

TEST_SUITE_END();
