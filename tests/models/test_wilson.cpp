#include "models/wilson.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <initializer_list>

#include "support/capture_bound.hpp"

using dryclock::models::wilson_interval;

TEST_SUITE_BEGIN("published");

// Four decimals are printed. Values from memory.
TEST_CASE("score intervals of four shares [Newcombe1998: Table I, method 3]") {
  struct Row {
    int hits, cases;
    double low, high;
  };
  for (const auto& [hits, cases, low, high] : {Row{81, 263, 0.2553, 0.3662}, Row{15, 148, 0.0624, 0.1605},
                                               Row{0, 20, 0.0000, 0.1611}, Row{1, 29, 0.0061, 0.1718}}) {
    CAPTURE_BOUND(hits);
    CAPTURE_BOUND(cases);
    const auto interval = wilson_interval(hits, cases);
    CHECK(std::abs(interval.low - low) <= 0.00005);
    CHECK(std::abs(interval.high - high) <= 0.00005);
  }
}

TEST_SUITE_END();
TEST_SUITE_BEGIN("identities");

TEST_CASE("what lifted and what did not are mirror images, and more cases say more") {
  for (int cases = 1; cases < 40; ++cases) {
    for (int hits = 0; hits <= cases; ++hits) {
      const auto some = wilson_interval(hits, cases);
      const auto others = wilson_interval(cases - hits, cases);
      CHECK(std::abs(some.low - (1.0 - others.high)) < 1e-12);
      CHECK(some.low >= 0.0);
      CHECK(some.high <= 1.0);
      CHECK(some.low <= static_cast<double>(hits) / cases + 1e-12);
      CHECK(some.high >= static_cast<double>(hits) / cases - 1e-12);
      const auto tenfold = wilson_interval(10 * hits, 10 * cases);
      CHECK(tenfold.high - tenfold.low < some.high - some.low);
    }
  }
}

TEST_CASE("no cases say nothing") {
  CHECK(wilson_interval(0, 0).low == 0.0);
  CHECK(wilson_interval(0, 0).high == 1.0);
}

TEST_SUITE_END();
