#include "models/reach.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <limits>
#include <optional>
#include <vector>

#include "drying_cases.hpp"
#include "models/normal.hpp"
#include "models/thermal_step.hpp"
#include "models/water_layer.hpp"
#include "models/zone.hpp"

using namespace dryclock::models;
using namespace drying_cases;

namespace {

constexpr double sigma = 0.4, break_up = 0.5, water = 3.5;

struct Hours {
  double share = 0.0, excess = 0.0, bond = 0.0;
};

// Two hundred columns of the layer, a zone each: the slow path, and means over them. In steady air, where
// excess is against the same reference all along.
Hours by_columns(const Surroundings& bay) {
  constexpr std::size_t zones = 25, columns = zones * members;
  const FilmModes modes = film_modes(baseline(), still_bay, bay.air);
  const Instant now = instant(modes, bay.air, bay.air, bay.humidity, still_bay);
  const WaterLayer layer{GramsPerSquareMetre{break_up}, GramsPerSquareMetre{0.05}};
  std::vector<Zone> all;
  for (std::size_t z = 0; z < zones; ++z) {
    Lanes h{};
    for (std::size_t m = 0; m < members; ++m) {
      const double share = (static_cast<double>(z * members + m) + 0.5) / columns;
      h[m] = water * std::exp(sigma * normal_quantile(share) - 0.5 * sigma * sigma);
    }
    all.emplace_back(modes, layer, h, 0.0, now.activity, 0.0);
  }
  ThermalStep step;
  prepare(step, modes, ZoneRun::all(1.0), now, now, now, minute);
  const double full = (1.0 - now.activity) * modes.inner_content, rate = bond_rate(bay.air);
  std::optional<double> share, bond;
  double damp_until = 0.0, clock = 0.0;
  for (double at = minute; !(share && bond && at / hour > damp_until + 1.0) && at < 200.0 * hour;
       at += minute) {
    double wet = 0.0, moisture = 0.0, bonded = 0.0;
    for (Zone& zone : all) {
      zone.advance(modes, step, 0.0, clock, clock + rate * minute);
      const Lanes left = zone.water(), excess = zone.excess(modes);
      for (std::size_t m = 0; m < members; ++m) {
        wet += std::min(1.0, left[m] / break_up) / columns;
        moisture += excess[m] / full / columns;
        bonded += zone.bond(clock + rate * minute, m) / columns;
      }
    }
    clock += rate * minute;
    if (!share && wet <= 0.10) share = at / hour;
    if (moisture > 0.15) damp_until = at / hour;  // it takes up its first moisture, and gives it off
    if (!bond && bonded >= 0.60) bond = at / hour;
  }
  return {share.value(), damp_until, bond.value()};
}

Hours by_reach(const Surroundings& bay) {
  CourseSpec spec;
  spec.stack = baseline();
  spec.panel_at_lay = bay.air;
  FilmCourse course(spec, ZoneRun::all(1.0), bay);
  CourseTrace trace;
  trace.add(course.now());
  const WaterSpread spread(sigma);
  // The columns' bond clock is pinned at 23 C.
  const double slowness = bond_rate(bay.air, BondLaw::williams_landel_ferry) / bond_rate(bay.air);
  const WaterWorld world{&spread, break_up, BondLaw::williams_landel_ferry, slowness};
  const auto delays = excess_delays(course.modes());
  const auto first = [&](const ZoneAsks& asks, double knot) {
    double before = -std::numeric_limits<double>::infinity();
    for (std::size_t k = 0; k < trace.size(); ++k) {
      const double most = most_water(trace, k, 0, delays, world, {}, asks);
      if (most >= std::log(water)) {
        return (static_cast<double>(k) - (most - std::log(water)) / (most - before)) * knot / hour;
      }
      before = most;
    }
    return 0.0;
  };
  constexpr double knot = 900.0;
  for (int step = 0; step < 240; ++step) {
    course.advance(bay, bay, Seconds{knot});
    trace.add(course.now());
  }
  return {first({.wet_share = 0.10}, knot), first({.excess = 0.15}, knot), first({.bond = 0.60}, knot)};
}

}  // namespace

TEST_SUITE_BEGIN("identities");

// Beforehand: the share has no error but the table's and a quarter of an hour between points, 0.5 %. Eight
// equal parts of a delay of an hour or two (excess) and of a day (bond) lose some minutes: 1.5 and 3 %.
TEST_CASE("the closed form says when two hundred columns are there") {
  for (const Surroundings& bay : {air(20.0, 0.5), air(12.0, 0.7)}) {
    const Hours columns = by_columns(bay);
    const Hours closed = by_reach(bay);
    CAPTURE(bay.air.value());
    CHECK(closed.share == about(columns.share, 0.005));
    CHECK(closed.excess == about(columns.excess, 0.015));
    CHECK(closed.bond == about(columns.bond, 0.03));
  }
}

// A front through an open gap: L^2 = rate t, and the share of the width it has left.
TEST_CASE("a front from the margin counts from the gap as it was pressed, then as it was opened") {
  const Margin pressed{
      .width = 0.005, .openness = 0.1, .opened = 1.0, .opened_at = std::numeric_limits<double>::infinity()};
  CHECK(pressed.left(0.0) == 1.0);
  CHECK(pressed.left(90e-6) == about(1.0 - 3.0 / 5.0, 1e-12));  // 9e-6 m2: 3 mm
  Margin opened = pressed;
  opened.opened_at = 40e-6;
  CHECK(opened.left(40e-6) == about(1.0 - 2.0 / 5.0, 1e-12));
  CHECK(opened.left(45e-6) == about(1.0 - 3.0 / 5.0, 1e-12));
  CHECK(opened.left(1.0) == 0.0);
  CHECK(Margin{}.left(1.0) == 1.0);
}
