#include "engine/heating.hpp"

#include <doctest/doctest.h>

#include <cmath>

using namespace dryclock;
using namespace dryclock::engine;
using models::ZoneKind;
using std::chrono::minutes;

namespace {

const std::vector<ZoneKind> bumper{ZoneKind::field, ZoneKind::edge, ZoneKind::recess};

HeatApplied heat(double surface_c, double for_minutes, std::optional<ZoneKind> zone = {}) {
  HeatApplied out{1, HeatSource::heat_gun, surface_c, for_minutes};
  out.zone = zone;
  return out;
}

double held_minutes(const HeatApplied& applied, double piece_m2 = 1.2) {
  const auto held =
      held_for(heating_of(applied, Time{}, bumper, piece_m2), models::PanelThermal{}, 20.0, 20.0);
  return std::chrono::duration<double, std::ratio<60>>(held).count();
}

}  // namespace

// By hand: 1.6 m2 of 0.75 mm steel (2767 J/(m2 K)) from 20 to 80 C are 266 kJ, and 8 W/(m2 K) x 60 K x 1.6 m2
// x 180 s are 138 kJ more: 404 kJ. A tool of 2 kW gives the film 54 kJ in three minutes.
TEST_CASE("no hand tool holds a whole bonnet at 80 C for three minutes") {
  auto field = heat(80.0, 3.0, ZoneKind::field);
  CHECK(held_minutes(field, 1.6) == 0.0);
  field.tool_w = 0.99 * 266e3 / (0.15 * 180.0);
  CHECK(held_minutes(field, 1.6) == 0.0);  // it is just not that warm at the end
  field.tool_w = 1.01 * 404e3 / (0.15 * 180.0);
  CHECK(held_minutes(field, 1.6) == doctest::Approx(3.0));
}

// A strip of 10 cm around 1.2 m2 is 0.438 m2: 72.7 kJ until it is at 80 C, and 210 W from then on.
TEST_CASE("an edge is held for as long as the energy lasts, and only where all of it is swept") {
  CHECK(held_minutes(heat(80.0, 3.0)) == 0.0);
  const double five = held_minutes(heat(80.0, 5.0));
  CHECK(five == doctest::Approx((90e3 - 72.7e3) / 210.3 / 60.0).epsilon(0.01));
  auto half = heat(80.0, 5.0);
  half.area_m2 = 0.5 * zone_area(ZoneKind::edge, 1.2);
  CHECK(held_minutes(half) == 0.0);
  auto more = heat(80.0, 5.0);
  more.area_m2 = 1.1 * zone_area(ZoneKind::edge, 1.2);
  CHECK(held_minutes(more) < five);
  CHECK(held_minutes(heat(20.0, 5.0)) == 0.0);  // it is that warm already
}

TEST_CASE("the sun is no tool: what it holds, it holds") {
  auto sun = heat(45.0, 60.0, ZoneKind::field);
  CHECK(held_minutes(sun, 5.0) < 60.0);
  sun.source = HeatSource::sun;
  CHECK(held_minutes(sun, 5.0) == doctest::Approx(60.0));
}
