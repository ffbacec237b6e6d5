// The two nights a year whose clocks lie. Summer time in the United Kingdom began on 29 March 2026 at 01:00
// UTC and ends on 25 October 2026 at 01:00 UTC (The Summer Time Order 2002).
#include <doctest/doctest.h>

#include "nights/night.hpp"

using namespace dryclock;
using nights::Night;
using std::chrono::hours;
using std::chrono::minutes;

namespace {

// Standard hours from 18:00 to 08:00 by the clock on the wall, at 21 C and 50 %, where pace is 1 by
// definition.
double night_hours(const char* evening, const char* zone) {
  Night night{evening, zone};
  night.air_is("front", 21.0, 50.0);
  night.sends_every("front", minutes{1});
  const auto van = night.arrives("grey-van", "front");
  const auto bonnet = night.lays(van, "bonnet");
  night.passes_to("08:00");
  const auto piece = night.piece(bonnet);
  CHECK(night.gaps().empty());
  CHECK(night.clock(piece.laid).substr(4) == "18:00");
  return piece.standard_hours;
}

}  // namespace

TEST_CASE("a night of the clocks going forward has 13 hours, of going back 15, any other 14") {
  CHECK(night_hours("2026-03-28 18:00", "Europe/London") == doctest::Approx(13.0).epsilon(0.003));
  CHECK(night_hours("2026-10-24 18:00", "Europe/London") == doctest::Approx(15.0).epsilon(0.003));
  CHECK(night_hours("2026-03-28 18:00", "UTC") == doctest::Approx(14.0).epsilon(0.003));
  CHECK(night_hours("2026-03-27 18:00", "Europe/London") == doctest::Approx(14.0).epsilon(0.003));
}

TEST_CASE("dwell and silence are real time, also across the hour that comes twice") {
  Night night{"2026-10-24 22:00", "Europe/London"};
  night.air_is("front", 21.0, 50.0);
  night.sends_every("front", minutes{1});
  const Time before = parse_rfc3339("2026-10-25T00:55:00Z").value();  // 01:55 summer time
  night.passes_to(before);
  night.falls_silent("front");  // last reading one minute before
  night.passes_to(before + hours{1});
  REQUIRE(night.timeline("raised sensor-silent/probe").size() == 1);
  for (const auto& row : night.alerts()) {
    if (row.alert.id == "sensor-silent/probe") {
      CHECK(row.alert.raised == before - minutes{1} + minutes{15});
    }
  }
}
