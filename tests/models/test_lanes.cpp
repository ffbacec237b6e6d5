#include "models/lanes.hpp"

#include <doctest/doctest.h>

#include <limits>

namespace dryclock::models {
namespace {

constexpr double infinite = std::numeric_limits<double>::infinity();

// 3 m + 1 at the places m/4 - 2.
Lanes line() {
  Lanes values{};
  for (std::size_t m = 0; m < members; ++m) {
    values[m] = 3.0 * static_cast<double>(m) + 1.0;
  }
  return values;
}
Lanes places() {
  Lanes at{};
  for (std::size_t m = 0; m < members; ++m) {
    at[m] = 0.25 * static_cast<double>(m) - 2.0;
  }
  return at;
}

}  // namespace

TEST_CASE("between lanes: along the line, and no further than its ends") {
  CHECK(between_lanes(line(), places(), -2.0) == 1.0);
  CHECK(between_lanes(line(), places(), -1.75) == 4.0);
  CHECK(between_lanes(line(), places(), 0.125) == 26.5);  // half way from m = 8 to 9
  CHECK(between_lanes(line(), places(), 5.75) == 94.0);   // m = 31
  CHECK(between_lanes(line(), places(), 9.0) == 94.0);
  CHECK(between_lanes(line(), places(), -9.0) == 1.0);
}

TEST_CASE("between lanes of which one is infinite: the lower") {
  auto values = line();
  values[9] = infinite;
  CHECK(between_lanes(values, places(), 0.125) == 25.0);
  CHECK(between_lanes(values, places(), 0.25) == infinite);
  CHECK(between_lanes(values, places(), 0.0) == 25.0);  // a lane by itself needs no neighbour
  values[31] = -infinite;
  CHECK(between_lanes(values, places(), 5.625) == -infinite);
  CHECK(between_lanes(values, places(), 5.5) == 91.0);
}

}  // namespace dryclock::models
