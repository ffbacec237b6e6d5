#include "cli/answer.hpp"

#include <doctest/doctest.h>

#include "cli/event_text.hpp"
#include "cli/some_board.hpp"

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
  const auto words = test::some_words();
  CHECK(cli::event_text(events[0].detail, words) == "piece 12, zone edge, finding clear");
  CHECK(cli::event_text(HeatApplied{12, HeatSource::lamp, 54.444444, 3.0}, words) ==
        "piece 12, source lamp, surface 54.4 °C, 3 min");
  CHECK(cli::event_text(Planned{3, {{"bonnet"}, {"sill", 2, 2}}}, words) ==
        "vehicle 3, pieces bonnet + sill 2/2");
  const auto german = test::some_words(Language::german);
  CHECK(cli::event_text(events[0].detail, german) == "Stück 12, Zone Kante, Befund klar");
  CHECK(cli::event_text(Planned{3, {{"bonnet"}, {"sill", 2, 2}}}, german) ==
        "Fahrzeug 3, Stücke Motorhaube + sill 2/2");
  CHECK(cli::event_text(LampSwitched{3, true, 712.5}, german) == "Fahrzeug 3, ein ja, Wärme 712,5 W/m²");
}
