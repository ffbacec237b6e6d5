#include "models/lanes.hpp"

#include <doctest/doctest.h>

#include <cmath>

#include "drying_cases.hpp"

namespace dryclock::models {
namespace {

using drying_cases::about;
using drying_cases::infinite;

// The places m/4 - 2.
Lanes places() {
  Lanes at{};
  for (std::size_t m = 0; m < members; ++m) {
    at[m] = 0.25 * static_cast<double>(m) - 2.0;
  }
  return at;
}
// Of the number of a lane.
template <class Of>
Lanes lanes(Of of) {
  Lanes values{};
  for (std::size_t m = 0; m < members; ++m) {
    values[m] = of(static_cast<double>(m));
  }
  return values;
}
Lanes line() {
  return lanes([](double m) { return 3.0 * m + 1.0; });
}

}  // namespace

TEST_CASE("between lanes: along the line, and no further than its ends") {
  CHECK(between_lanes(line(), places(), -2.0) == 1.0);
  CHECK(between_lanes(line(), places(), -1.75) == 4.0);
  CHECK(between_lanes(line(), places(), -1.125) == about(11.5, 1e-12));  // half way from m = 3 to 4
  CHECK(between_lanes(line(), places(), -0.25) == 22.0);                 // m = 7
  CHECK(between_lanes(line(), places(), 9.0) == 22.0);
  CHECK(between_lanes(line(), places(), -9.0) == 1.0);
}

TEST_CASE("between lanes: a cubic comes back as it was, also at the ends") {
  const auto cubic = [](double m) { return m * m * m - 7.0 * m * m + 2.0 * m - 5.0; };
  for (const double m : {0.3, 1.5, 3.7, 5.2, 6.9}) {
    CHECK(between_lanes(lanes(cubic), places(), 0.25 * m - 2.0) == about(cubic(m), 1e-12));
  }
}

// exp(-r) over the lanes' 1.6 each way, as what a film drinks falls with its resistance. The remainder of the
// cubic is h^4 9/16/24 of the fourth derivative, h = 3.2/7: 1.0e-3 in the middle of an interval.
TEST_CASE("between lanes: what falls exponentially is within the cubic's remainder") {
  Lanes at{};
  for (std::size_t m = 0; m < members; ++m) {
    at[m] = -1.6 + 3.2 / 7.0 * static_cast<double>(m);
  }
  const Lanes values = lanes([&](double m) { return std::exp(1.6 - 3.2 / 7.0 * m); });
  for (const double r : {-0.9, -0.25, 0.0, 0.4, 1.1}) {
    CHECK(between_lanes(values, at, r) == about(std::exp(-r), 1.6e-3));
  }
}

TEST_CASE("between lanes of which one is infinite: the lower; further off: along the line") {
  auto values = lanes([](double m) { return m * m; });
  values[4] = infinite;
  CHECK(between_lanes(values, places(), -1.125) == 9.0);  // half way from m = 3 to 4
  CHECK(between_lanes(values, places(), -1.0) == infinite);
  CHECK(between_lanes(values, places(), -1.25) == 9.0);   // a lane by itself needs no neighbour
  CHECK(between_lanes(values, places(), -1.375) == 6.5);  // from m = 2 to 3
  values[7] = -infinite;
  CHECK(between_lanes(values, places(), -0.375) == -infinite);
  CHECK(between_lanes(values, places(), -0.5) == 36.0);
}

}  // namespace dryclock::models
