#include "models/quantiles.hpp"

#include <doctest/doctest.h>

#include "drying_cases.hpp"

using namespace dryclock::models;
using namespace drying_cases;

namespace {

// 32 down to 1, equally likely.
std::vector<Weighed> falling() {
  std::vector<Weighed> values;
  for (int i = 32; i > 0; --i) {
    values.push_back({static_cast<double>(i), 1.0});
  }
  return values;
}

}  // namespace

TEST_SUITE_BEGIN("identities");

TEST_CASE("quantiles of equal weights lie between the middles of their shares") {
  CHECK(quantiles(falling()).likely == about(16.5, 1e-12));
  CHECK(quantiles(falling()).low == about(0.1 * 32 + 0.5, 1e-12));
  CHECK(quantiles(falling()).high == about(0.9 * 32 + 0.5, 1e-12));
}

// Three halves at 1, half at 3: their middles lie at 0.75 and 1.75 of 2, the 50th percentile a quarter of the
// way between.
TEST_CASE("quantiles of unlike weights") {
  CHECK(quantiles({{3.0, 0.5}, {1.0, 1.5}}).likely == about(1.5, 1e-12));
  CHECK(quantiles({{3.0, 0.5}, {1.0, 1.5}}).high == 3.0);
  CHECK(quantiles({{3.0, 0.5}, {1.0, 1.5}}).low == 1.0);
}

TEST_CASE("all weight on one value, or none at all") {
  auto values = falling();
  for (Weighed& one : values) {
    one.weight = one.value == 5.0 ? 1.0 : 0.0;
  }
  CHECK(quantiles(values) == Quantiles{5.0, 5.0, 5.0});
  CHECK(quantiles({}) == Quantiles{});
  CHECK(quantiles({{7.0, 0.0}}) == Quantiles{});
}

TEST_CASE("a third never gets there: the late value is never, the likely one is a number") {
  auto values = falling();
  for (std::size_t i = 0; i < values.size() / 3; ++i) {
    values[i].value = infinite;
  }
  CHECK(quantiles(values).high == infinite);
  CHECK(quantiles(values).likely == about(16.5, 1e-12));
}

TEST_SUITE_END();
