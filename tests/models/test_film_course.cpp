#include "models/film_course.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <numbers>
#include <vector>

#include "drying_cases.hpp"
#include "models/water_layer.hpp"

using namespace dryclock::models;
using namespace drying_cases;

namespace {

// Air that swings over a day, and about the dew point for some hours of it.
Surroundings swinging(double seconds) {
  const double day = 2.0 * std::numbers::pi * seconds / 86'400.0;
  return air(16.0 + 6.0 * std::sin(day) + 1.5 * std::sin(17.0 * day), 0.65 + 0.3 * std::cos(day));
}

}  // namespace

TEST_SUITE_BEGIN("identities");

// 1e-9 g/m2 as the identity is exact but for rounding, in sums of some thousand steps of g/m2.
TEST_CASE("under one history of air every layer is its first one less what the film has drunk") {
  const std::vector<double> waters{0.4, 1.2, 3.0, 10.0, 40.0};
  const auto on_panel = [](double seconds) {
    Surroundings bay = swinging(seconds);
    bay.air = Celsius{bay.air.value() + 5.0};  // laid at 21 C
    bay.panel_c = bay.air.value();
    return bay;
  };
  CourseSpec course_spec;
  course_spec.stack = baseline();
  FilmCourse course(course_spec, ZoneRun::all(1.0), on_panel(0.0));
  const WaterLayer layer{GramsPerSquareMetre{1.5}, GramsPerSquareMetre{0.05}};
  std::vector<ZoneRun> zones;
  for (const double water : waters) {
    zones.emplace_back(baseline(), layer, water, on_panel(0.0));
  }
  constexpr double minute = 60.0;
  double worst = 0.0;
  for (int step = 0; step < 48 * 60; ++step) {
    const Surroundings from = on_panel(minute * step), to = on_panel(minute * (step + 1));
    course.advance(from, to, Seconds{minute});
    for (std::size_t z = 0; z < waters.size(); ++z) {
      zones[z].advance(from, to, minute);
      const double left = layer.water(layer.coordinate(waters[z]) - course.now().drunk[0]);
      worst = std::max(worst, std::abs(left - zones[z].water()));
    }
  }
  CHECK(worst < 1e-9);
  CHECK(course.now().drunk[0] > 5.0);
}

// 0.2 % from six hours after lay, as the design has it: what differs is how fast the film takes up its first
// moisture.
TEST_CASE("pieces laid at other hours follow the common course") {
  const auto drunk = [](double laid, double from, double to, double panel_c) {
    CourseSpec spec;
    spec.stack = baseline();
    spec.panel_at_lay = Celsius{panel_c};
    FilmCourse course(spec, ZoneRun::all(1.0), swinging(laid));
    double at_from = 0.0;
    for (int step = 0; laid + 600.0 * step < to; ++step) {
      const double at = laid + 600.0 * step;
      if (at == from) at_from = course.now().drunk[0];
      course.advance(swinging(at), swinging(at + 600.0), Seconds{600.0});
    }
    return course.now().drunk[0] - at_from;
  };
  for (const double laid : {12.0 * hour, 20.0 * hour, 30.0 * hour}) {
    const double from = laid + 6.0 * hour, to = laid + 30.0 * hour;
    const double common = drunk(0.0, from, to, 16.0);
    CHECK(drunk(laid, from, to, 16.0) == about(common, 0.002));
    CHECK(drunk(laid, from, to, 10.0) == about(common, 0.002));
  }
}

TEST_CASE("many readings at once, and one by one") {
  CourseSpec spec;
  spec.stack = baseline();
  FilmCourse one(spec, ZoneRun::all(1.0), swinging(0.0));
  FilmCourse many = one;
  std::vector<Surroundings> readings{swinging(0.0)};
  for (int minute = 1; minute <= 24 * 60; ++minute) {
    readings.push_back(swinging(60.0 * minute));
    one.advance(readings[readings.size() - 2], readings.back(), Seconds{60.0});
  }
  many.advance(readings, Seconds{60.0});
  CHECK(many.now().seconds == about(24.0 * hour, 1e-12));
  CHECK(many.now().drunk[0] == about(one.now().drunk[0], 1e-3));
  CHECK(many.now().front_squared == about(one.now().front_squared, 1e-3));
  CHECK(many.now().clock[0] == about(one.now().clock[0], 1e-3));
}

TEST_CASE("turned behind a panel it goes on from where it was, slower, and no front moves") {
  CourseSpec spec;
  spec.stack = baseline();
  const Surroundings bay = air(20.0, 0.5, 20.0);
  FilmCourse flat(spec, ZoneRun::all(1.0), bay);
  flat.advance(bay, bay, Seconds{6.0 * hour});
  FilmCourse turned = flat;
  turned.turn_behind();
  CHECK(turned.now().drunk[0] == flat.now().drunk[0]);
  const CoursePoint before = turned.now();
  flat.advance(bay, bay, Seconds{24.0 * hour});
  turned.advance(bay, bay, Seconds{24.0 * hour});
  CHECK(turned.now().front_squared == before.front_squared);
  CHECK(flat.now().front_squared > before.front_squared);
  CHECK(turned.now().clock == flat.now().clock);
  // In the end the flux is 1/R, R the film's with its air layer's: h_m of 2.5e-4 against 2.3e-3 m/s.
  const FilmModes open = film_modes(baseline(), MetresPerSecond{2.3e-3}, Celsius{20.0}),
                  behind = film_modes(baseline(), MetresPerSecond{2.5e-4}, Celsius{20.0});
  const double flat_so_far = flat.now().drunk[0], turned_so_far = turned.now().drunk[0];
  flat.advance(bay, bay, Seconds{24.0 * hour});
  turned.advance(bay, bay, Seconds{24.0 * hour});
  CHECK((turned.now().drunk[0] - turned_so_far) / (flat.now().drunk[0] - flat_so_far) ==
        about(open.resistance / behind.resistance, 1e-4));
}

// From a room at 95 % to one at 10 % and back: the film passes on what it holds, and never back to the
// liquid.
TEST_CASE("what a film has drunk never falls, however the air jumps") {
  CourseSpec spec;
  spec.stack = baseline();
  const Surroundings damp = air(20.0, 0.95), dry = air(20.0, 0.10);
  FilmCourse course(spec, ZoneRun::all(1.0), damp);
  double before = course.now().drunk[0];
  for (int i = 0; i < 200; ++i) {
    const Surroundings& bay = i % 2 == 0 ? dry : damp;
    course.advance(bay, bay, Seconds{20.0});
    CHECK(course.now().drunk[0] >= before);
    before = course.now().drunk[0];
  }
}
