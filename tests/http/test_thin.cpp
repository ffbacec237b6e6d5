#include <doctest/doctest.h>

#include <cmath>
#include <limits>

#include "http/thin.hpp"

namespace dryclock::http {
namespace {

using std::chrono::minutes;

AirPoint at(int minute, double air_c, double pace) {
  AirPoint point;
  point.at = from_unix_ms(0) + minutes{minute};
  point.air_c = air_c;
  point.panel_c = std::numeric_limits<double>::quiet_NaN();
  point.pace = pace;
  return point;
}

}  // namespace

TEST_CASE("means over stretches that end on the minute asked for") {
  auto points = std::vector{at(1, 10, 1), at(2, 20, 3), at(10, 30, 2), at(11, 40, 4)};
  points[1].bridged = true;
  const auto means = thinned(points, minutes{10});
  REQUIRE(means.size() == 2);
  CHECK(means[0].at == points[2].at);  // (0, 10] holds minute 10
  CHECK(means[0].air_c == doctest::Approx(20));
  CHECK(means[0].pace == doctest::Approx(2));
  CHECK(means[0].bridged);
  CHECK(std::isnan(means[0].panel_c));
  CHECK(means[1].air_c == doctest::Approx(40));
  CHECK_FALSE(means[1].bridged);
}

TEST_CASE("a number that is there in part is the mean of that part") {
  auto points = std::vector{at(1, 10, 1), at(2, 10, 1)};
  points[1].panel_c = 15;
  CHECK(thinned(points, minutes{5})[0].panel_c == doctest::Approx(15));
}

TEST_CASE("nothing and single minutes stay as they are") {
  CHECK(thinned({}, minutes{5}).empty());
  CHECK(thinned({at(1, 1, 1), at(2, 2, 2)}, minutes{1}).size() == 2);
}

}  // namespace dryclock::http
