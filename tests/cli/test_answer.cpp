#include "cli/answer.hpp"

#include <doctest/doctest.h>

#include "cli/event_text.hpp"

using namespace dryclock;

TEST_CASE("an answer that is not what was agreed says so") {
  CHECK_THROWS_WITH(
      static_cast<void>(cli::understood<Board>(R"({"now":"2026-03-01T06:40:00Z"})")),
      "the daemon's answer is not understood: /applied: is missing; are daemon and client of one "
      "version?");
  CHECK(cli::understood<Permission>(R"({"may_write":true})").may_write);
}

TEST_CASE("events come as they are, with what they have of their own in one line") {
  const auto events =
      cli::understood<EventsAnswer>(
          R"({"events":[{"seq":9,"entered":"2026-03-01T06:41:00.000Z","what":"inspected","at":"2026-03-01T06:40:00.000Z",)"
          R"("who":"AB","piece":12,"zone":"edge","finding":"clear"}]})")
          .events;
  REQUIRE(events.size() == 1);
  CHECK(events[0].seq == 9);
  CHECK(events[0].who == "AB");
  CHECK(cli::event_text(events[0].detail) == "piece 12, zone edge, finding clear");
  CHECK(cli::event_text(HeatApplied{12, HeatSource::lamp, 54.444444, 3.0}) ==
        "piece 12, source lamp, surface_c 54.44, minutes 3");
  CHECK(cli::event_text(Planned{3, {{"bonnet"}, {"sill", 2, 2}}}) ==
        "vehicle 3, pieces (panel bonnet, part 1, parts 1) + (panel sill, part 2, parts 2)");
}
