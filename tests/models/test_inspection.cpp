#include "models/inspection.hpp"

#include <doctest/doctest.h>

#include <array>
#include <cmath>

#include "drying_cases.hpp"

using namespace dryclock::models;
using drying_cases::about;

namespace {

// What the finding is worth once the share of mistakes, 0.05, is taken off. [0..1]
double seen(Finding finding, double water) {
  return (sight(finding, water, 1.0) - 0.05) / 0.95;
}

}  // namespace

TEST_SUITE_BEGIN("practice");

// Common practice, no source: a fifth of a micrometre under clear film shows no more, three show as wet.
TEST_CASE("0.2 g/m2 look clear and 3 g/m2 look wet as likely as not") {
  CHECK(seen(Finding::clear, 0.2) == about(0.5, 1e-9));
  CHECK(seen(Finding::clear, 0.18) > 0.5);
  CHECK(seen(Finding::clear, 0.22) < 0.5);
  CHECK(seen(Finding::wet, 3.0) == about(0.5, 1e-9));
  CHECK(seen(Finding::wet, 2.7) < 0.5);
  CHECK(seen(Finding::wet, 3.3) > 0.5);
}

// Common practice, no source: of twenty findings one is not what it looks like.
TEST_CASE("a finding that cannot be is still one in twenty") {
  CHECK(sight(Finding::clear, 1e6, 1.0) == about(0.05, 1e-9));
  CHECK(sight(Finding::wet, 1e-6, 1.0) == about(0.05, 1e-9));
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
    CHECK(std::abs(seen(Finding::wet, 3.0 * std::exp2(doublings)) - normal) < 0.01);
    CHECK(std::abs(seen(Finding::clear, 0.2 * std::exp2(-doublings)) - normal) < 0.01);
  }
}

TEST_CASE("film that lifts says nothing of its water") {
  CHECK(sight(Finding::lifting, 0.1, 1.0) == sight(Finding::lifting, 10.0, 1.0));
}

TEST_CASE("what is neither clear nor wet is hazy") {
  for (const double water : {0.05, 0.2, 0.8, 3.0, 10.0}) {
    CHECK(seen(Finding::clear, water) + seen(Finding::hazy, water) + seen(Finding::wet, water) ==
          about(1.0, 1e-9));
  }
}

TEST_SUITE_END();
