#include "models/water_spread.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <limits>

#include "models/normal.hpp"
#include "models/water_layer.hpp"

using namespace dryclock::models;

namespace {

struct Lying {
  double wet = 0.0, left = 0.0;
};

// Twenty thousand columns of equal area, each an own layer of water_layer.hpp: nothing of the integral.
Lying by_columns(double sigma, double water, double drunk, double break_up) {
  constexpr int columns = 20'000;
  const WaterLayer layer{GramsPerSquareMetre{break_up}, GramsPerSquareMetre{0.05}};
  Lying sum;
  for (int i = 0; i < columns; ++i) {
    const double z = normal_quantile((i + 0.5) / columns);
    const double coordinate = layer.coordinate(water * std::exp(sigma * z - 0.5 * sigma * sigma)) - drunk;
    sum.wet += std::exp(layer.log_wetted(coordinate)) / columns;
    sum.left += layer.water(coordinate) / columns;
  }
  return sum;
}

}  // namespace

TEST_SUITE_BEGIN("identities");

// The columns' own rule of the middle is good to 1e-4 here: steps of the share where a column ends.
TEST_CASE("water that lies unevenly dries as its columns do") {
  for (const double sigma : {0.2, 0.4, 0.8}) {
    for (const double break_up : {0.1, 0.5, 1.7}) {
      for (const double water : {0.3, 1.0, 3.5, 20.0}) {
        for (const double drunk : {0.0, 0.2, 1.0, 4.0, 15.0, 60.0}) {
          const Lying columns = by_columns(sigma, water, drunk, break_up);
          CAPTURE(sigma);
          CAPTURE(break_up);
          CAPTURE(water);
          CAPTURE(drunk);
          CHECK(std::abs(WaterSpread::exact(sigma, water, drunk, break_up) - columns.wet) < 2e-4);
          CHECK(std::abs(WaterSpread::left(sigma, water, drunk, break_up) - columns.left) <
                2e-4 * std::max(1.0, water));
        }
      }
    }
  }
}

TEST_CASE("the table is within 1e-3 of the sum") {
  for (const double sigma : {0.2, 0.4, 0.8}) {
    const WaterSpread spread(sigma);
    double worst = 0.0;
    for (int i = 0; i < 47; ++i) {
      const double log_water = 0.171 * i - 2.03;
      for (int k = 0; k < 27; ++k) {
        const double drunk = 0.03 / 0.37 * (std::pow(1.37, k) - 1.0);  // up to 290
        const double off =
            spread.wet_share(log_water, drunk) - WaterSpread::exact(sigma, std::exp(log_water), drunk, 1.0);
        worst = std::max(worst, std::abs(off));
      }
    }
    CAPTURE(sigma);
    CHECK(worst < 1e-3);
  }
}

TEST_CASE("the most water leaves just the share that is asked for") {
  const WaterSpread spread(0.4);
  for (const double drunk : {0.5, 6.0, 40.0}) {
    for (const double limit : {0.05, 0.10, 0.20}) {
      const Moment now{1.0, drunk, 1.0};
      const double most =
          WetShares({&now, 1}).most_water(spread, limit, std::numeric_limits<double>::quiet_NaN());
      CHECK(std::abs(by_columns(0.4, std::exp(most), drunk, 1.0).wet - limit) < 2e-3);
    }
  }
  // Half of what counts was before lay, when all was wet: no water is little enough for a tenth.
  const Moment moments[] = {{0.5, -1.0, 1.0}, {0.5, 6.0, 1.0}};
  CHECK(WetShares(moments).most_water(spread, 0.1, 0.0) == -std::numeric_limits<double>::infinity());
  // The front from the margin has left a twentieth of the width.
  const Moment margin{1.0, 0.5, 0.05};
  CHECK(WetShares({&margin, 1}).most_water(spread, 0.1, 0.0) == std::numeric_limits<double>::infinity());
}
