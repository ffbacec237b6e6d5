// Two sensors that disagree, and one that hangs by the heater.
#include <doctest/doctest.h>

#include "engine/sensor_rules.hpp"
#include "nights/night.hpp"
#include "nights/replay.hpp"
#include "support/said.hpp"
#include "two_in_front.hpp"

using namespace dryclock;
using nights::fingerprint;
using nights::Night;
using nights::two_in_front;
using std::chrono::hours;
using std::chrono::minutes;
using support::said;

namespace {

void both_send(Night& night) {
  night.air_is("front", 20.0, 50.0);
  night.air_is("side", 20.3, 51.0);
  night.sends_every("front", minutes{1});
  night.sends_every("side", minutes{1});
}

}  // namespace

TEST_CASE("two sensors that disagree for an hour are told, each quantity by itself") {
  Night night{"2026-03-02 08:00", "UTC", two_in_front()};
  both_send(night);
  night.passes_to("10:00");
  CHECK(night.timeline("sensors-disagree").empty());
  night.air_is("side", 20.3, 58.0);  // 8 apart; 2 + 2 + 3 are allowed
  night.passes_to("10:55");
  CHECK(night.timeline("sensors-disagree").empty());
  night.passes_to("11:10");
  REQUIRE(night.timeline("raised sensors-disagree/probe+side:relative-humidity").size() == 1);
  CHECK(night.timeline("air-temperature").empty());
  CHECK(said(night.alerts().back().alert.what).find("probe shows 50 %RH and side shows 58 %RH") !=
        std::string::npos);
  night.air_is("side", 20.3, 56.0);  // within the hysteresis
  night.passes_to("12:30");
  CHECK(night.timeline("cleared sensors-disagree").empty());
  night.air_is("side", 20.3, 54.0);
  night.passes_to("12:40");
  CHECK(night.timeline("cleared sensors-disagree").size() == 1);
  CHECK(bool{nights::replay(night.setup(), night.rows(), night.now()).board == fingerprint(night.engine())});
}

// Each figure is a number with its measure, so that whoever counts in Fahrenheit gets every one of them
// turned.
TEST_CASE("temperatures that disagree are told in Fahrenheit, limits and differences too") {
  Night night{"2026-03-02 08:00", "UTC", two_in_front()};
  both_send(night);
  night.passes_to("10:00");
  night.air_is("side", 25.0, 51.0);
  night.passes_to("11:10");
  REQUIRE(night.timeline("raised sensors-disagree/probe+side:air-temperature").size() == 1);
  const auto text = said(night.alerts().back().alert.what, {.temperature = TemperatureScale::fahrenheit});
  CAPTURE(text);
  CHECK(text.find("probe shows 68 °F and side shows 77 °F") != std::string::npos);  // 20 and 25 C
  CHECK(text.find("°C") == std::string::npos);
  CHECK(text.find(" K") == std::string::npos);
}

TEST_CASE("an open door is no disagreement, and a sensor in its box is not compared") {
  Night night{"2026-03-02 08:00", "UTC", two_in_front()};
  both_send(night);
  night.passes_to("10:00");
  night.air_is("side", 15.0, 60.0);
  night.passes_to("10:40");
  night.air_is("side", 20.3, 51.0);
  night.passes_to("12:00");
  night.does(SensorCheckStarted{"side", models::Salt::sodium_chloride});
  night.air_is("side", 20.3, 75.5);
  night.passes_to("16:00");
  CHECK(night.timeline("sensors-disagree").empty());
}

TEST_CASE("a sensor whose temperature turns again and again is told, unless the bay's other one turns too") {
  Night night{"2026-03-02 08:00", "UTC", two_in_front()};
  both_send(night);
  night.passes_to("09:00");
  bool both = false;
  SUBCASE("the bay's other sensor is quiet") {}
  SUBCASE("the bay's air swings") {
    both = true;
  }
  for (int turn = 0; turn < 10; ++turn) {
    night.air_drifts("side", turn % 2 == 0 ? 24.0 : 20.3, 51.0, minutes{8});
    if (both) {
      night.air_drifts("front", turn % 2 == 0 ? 23.5 : 20.0, 50.0, minutes{8});
    }
    night.passes_to(night.now() + minutes{10});
  }
  CHECK(night.timeline("raised sensor-swings/side").size() == (both ? 0 : 1));
  CHECK(night.timeline("raised sensor-swings/probe").empty());
  night.passes_to(night.now() + hours{3});
  CHECK(night.timeline("cleared sensor-swings/side").size() == (both ? 0 : 1));
  CHECK(bool{nights::replay(night.setup(), night.rows(), night.now()).board == fingerprint(night.engine())});
}

TEST_CASE("turns are counted where it goes back by two kelvin, and are forgotten after two hours") {
  engine::Turns turns;
  const Time t0 = parse_rfc3339("2026-03-01T20:00:00Z").value();
  Time at = t0;
  for (const double value : {20.0, 21.9, 20.1, 22.2, 20.1, 20.0, 22.5, 21.0, 19.9}) {
    turns.add(at, value);
    at += minutes{10};
  }
  // 22.2 -> 20.1, 20.0 -> 22.5, 22.5 -> 19.9; the way up to 22.2 was the first.
  CHECK(turns.count(at) == 3);
  CHECK(turns.count(t0 + minutes{40} + hours{2}) == 2);
  CHECK(turns.count(at + hours{3}) == 0);
}
