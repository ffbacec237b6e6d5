// What sensors do at night: fall silent, freeze, repeat themselves, tell late.
#include <doctest/doctest.h>

#include "nights/night.hpp"

using namespace dryclock;
using nights::Night;
using std::chrono::hours;
using std::chrono::minutes;
using std::chrono::seconds;
using Lines = std::vector<std::string>;

namespace {

std::uint64_t count(const Night& night, Verdict verdict) {
  return night.board().counters.verdict[static_cast<std::size_t>(verdict)];
}

}  // namespace

TEST_CASE("a sensor drops out: told at its last reading + 15 min, the gap has its readings' bounds") {
  Night night{"2026-03-02 18:00"};
  night.air_is("front", 21.0, 50.0);
  night.sends_every("front", seconds{40});
  const auto van = night.arrives("grey-van", "front");
  const auto bonnet = night.lays(van, "bonnet");
  night.passes_to("23:00:20");
  night.falls_silent("front");  // last reading 23:00:00
  night.passes_to("01:30");
  const auto before = night.piece(bonnet);
  CHECK(before.as_of <= night.at("2026-03-02 23:00"));
  CHECK((before.state.validity & models::bridged_gap) != 0);  // what is shown for now is not measured
  night.air_is("front", 12.0, 70.0);
  night.sends_every("front", seconds{40});  // first one 01:30:00
  night.passes_to("01:40");

  CHECK(night.timeline("sensor-silent/probe") ==
        Lines{"Mon 23:15 raised sensor-silent/probe", "Tue 01:30 cleared sensor-silent/probe"});
  REQUIRE(night.gaps().size() == 1);
  CHECK(night.gaps()[0].from == night.at("2026-03-02 23:00"));
  CHECK(night.gaps()[0].to == night.at("2026-03-03 01:30"));
  // Bridged at the colder, damper end: the 2.5 h are worth less than at 21 C, 50 %, and more than nothing.
  const double delivered = night.piece(bonnet).standard_hours - before.standard_hours;
  CHECK(delivered < 1.5);
  CHECK(delivered > 0.2);
  CHECK((night.piece(bonnet).state.validity & models::bridged_gap) != 0);
}

TEST_CASE("a sensor that sends hourly is interpolated, not held, if the limit allows an hour") {
  auto setup = support::small_shop();
  setup.bridge_after = minutes{90};
  Night night{"2026-03-02 18:00", "UTC", setup};
  night.air_is("front", 20.0, 50.0);
  night.sends_every("front", hours{1});
  night.passes_to("18:30");
  night.air_drifts("front", 26.0, 50.0, minutes{30});
  night.passes_to("20:00:10");
  CHECK(night.gaps().empty());
  const auto air = night.engine().air("front", night.at("2026-03-02 18:29"), night.at("2026-03-02 18:30"));
  REQUIRE(air.size() == 1);
  CHECK(air[0].air_c == doctest::Approx(23.0).epsilon(0.005));
}

TEST_CASE("a frozen sensor is told after six hours, and its later readings are left out") {
  Night night{"2026-03-02 12:00"};
  night.air_is("front", 20.0, 50.0);
  night.sends_every("front", minutes{1});
  night.passes_to("14:00");
  night.freezes("front");
  night.passes_to("22:00");
  // Frozen from 14:00 on; 20:01 is the first reading more than six hours after.
  CHECK(night.timeline("sensor-stuck") == Lines{"Mon 20:01 raised sensor-stuck/probe"});
  CHECK(count(night, Verdict::stuck) == 2 * 119);  // 20:01 to 21:59, both quantities
  const auto air = night.engine().air("front", night.at("2026-03-02 20:00"), night.at("2026-03-02 22:00"));
  CHECK(air.empty());
  night.air_is("front", 20.0, 50.0);  // it lives again
  night.passes_to("22:05");
  CHECK(night.timeline("cleared sensor-stuck").size() == 1);
  REQUIRE(night.gaps().size() == 1);
  CHECK(night.gaps()[0].from == night.at("2026-03-02 20:00"));
}

TEST_CASE("duplicates, late and retained messages leave the state as it is, bit for bit") {
  const auto play = [](bool disturbed) {
    Night night{"2026-03-02 18:00"};
    night.air_is("back", 20.0, 50.0);
    night.sends_every("back", minutes{1});
    const auto van = night.arrives("grey-van", "back");
    night.lays(van, "bonnet");
    night.passes_to("20:00:30");
    if (disturbed) {
      night.sends("back", 19.0, 60.0, night.at("2026-03-02 19:58"));        // sent before, with other values
      night.sends("back", 20.0, 50.0, night.at("2026-03-02 19:59"), true);  // redelivered
      night.sends("back", 5.0, 95.0, night.at("2026-03-02 19:30:30"));      // never sent, but too late
      night.sends("back", 5.0, 95.0, night.at("2026-03-02 20:00:20"), false, true);  // retained
      CHECK(count(night, Verdict::duplicate) == 4);
      CHECK(count(night, Verdict::late) == 2);
      CHECK(count(night, Verdict::retained) == 2);
    }
    night.passes_to("23:00");
    const auto board = night.board();
    return board.vehicles[0].pieces[0].standard_hours;
  };
  CHECK(play(true) == play(false));
}

TEST_CASE("the clock is stepped: told, on record, and nothing is joined across it") {
  Night night{"2026-03-02 18:00"};
  night.air_is("front", 21.0, 50.0);
  night.sends_every("front", minutes{1});
  night.passes_to("20:00:10");
  night.clock_steps_to("20:05:00", "+290 s");
  night.passes_to("20:30");
  CHECK(night.timeline("clock-stepped") == Lines{"Mon 20:05 raised clock-stepped/clock"});
  REQUIRE(night.gaps().size() == 1);
  CHECK(night.gaps()[0].why == GapWhy::clock_step);
  CHECK(night.gaps()[0].from == night.at("2026-03-02 20:00"));
  CHECK(night.gaps()[0].to == night.at("2026-03-02 20:06"));
  night.does(AlertAcknowledged{"clock-stepped/clock"});
  night.passes_to("20:32");
  CHECK(night.timeline("cleared clock-stepped").size() == 1);
}

TEST_CASE("a Fahrenheit sensor set up as Celsius is told after the dwell") {
  Night night{"2026-03-02 18:00"};
  night.air_is("front", 70.0, 50.0);
  night.sends_every("front", minutes{1});
  night.passes_to("19:00");
  CHECK(night.timeline("sensor-implausible") == Lines{"Mon 18:10 raised sensor-implausible/probe"});
}
