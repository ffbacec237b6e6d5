#include "engine/heating.hpp"

#include <doctest/doctest.h>

#include <cmath>

#include "engine/vehicle_track.hpp"
#include "support/small_shop.hpp"

namespace dryclock::engine {
namespace {

using models::ZoneKind;
using std::chrono::minutes;

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

// Nobody knows how long a tool or a lamp goes on: what is looked ahead of has neither.
TEST_CASE("a piece that is looked ahead of is neither held nor lit") {
  const models::Surroundings air{models::Celsius{20.0}, models::Humidity{0.5}};
  models::LaidSpec spec;
  spec.stack = support::small_shop().catalogue.films[0].stack;
  spec.zones = {{ZoneKind::field}, {ZoneKind::edge}};
  PieceTrack track;
  track.piece.emplace(spec, air);
  models::LaidPiece plain = *track.piece;
  track.piece->hold(ZoneKind::edge, 60.0);
  track.held_c[static_cast<std::size_t>(ZoneKind::edge)] = 60.0;
  track.piece->light(ZoneKind::field, 300.0);
  track.lit_w_m2[static_cast<std::size_t>(ZoneKind::field)] = 300.0;
  auto ahead = unheated(track);
  for (auto* piece : {&plain, &ahead, &*track.piece}) {
    piece->advance(air, air, models::Seconds{6 * 3600.0});
  }
  const auto drunk = [](const models::LaidPiece& piece, std::size_t zone) {
    return piece.trace(zone)[piece.trace(zone).size() - 1].drunk[0];
  };
  for (const std::size_t zone : {std::size_t{0}, std::size_t{1}}) {
    CHECK(drunk(ahead, zone) == drunk(plain, zone));
    CHECK(drunk(*track.piece, zone) > drunk(plain, zone));
  }
}

// 0.5 x 1500 W over 1.2 m2 are 625 W/m2.
TEST_CASE("a lamp gives what is told, and never more than half of what it draws") {
  LampSwitched lamp{1, true, 900.0};
  CHECK(lamp_heat(lamp, 1.2) == 900.0);
  lamp.tool_w = 1500.0;
  CHECK(lamp_heat(lamp, 1.2) == doctest::Approx(625.0));
  CHECK(lamp_heat(lamp, 0.0) == 900.0);  // of what area nobody knows
  lamp.area_m2 = 2.4;
  CHECK(lamp_heat(lamp, 1.2) == doctest::Approx(312.5));
  lamp.area_m2 = 1.1;
  CHECK(lamp_heat(lamp, 1.2) == 0.0);  // the rest of it stays cold, and a step waits for that
  lamp.area_m2 = 1.2;
  lamp.heat_w_m2 = 300.0;
  CHECK(lamp_heat(lamp, 1.2) == 300.0);
  lamp.on = false;
  CHECK(lamp_heat(lamp, 1.2) == 0.0);
}

TEST_CASE("the sun is no tool: what it holds, it holds") {
  auto sun = heat(45.0, 60.0, ZoneKind::field);
  CHECK(held_minutes(sun, 5.0) < 60.0);
  sun.source = HeatSource::sun;
  CHECK(held_minutes(sun, 5.0) == doctest::Approx(60.0));
}

}  // namespace dryclock::engine
