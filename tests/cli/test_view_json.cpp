#include "cli/view_json.hpp"

#include <doctest/doctest.h>

#include <cmath>

#include "cli/some_board.hpp"
#include "http/json_view.hpp"

using namespace dryclock;

// What the daemon writes is what the client reads: written again, it is the same text.
TEST_CASE("a board comes back as the daemon wrote it") {
  const auto board = test::some_board();
  const auto text = http::to_json(board);
  const auto back = cli::parse_board(text);
  CHECK(back.vehicles[0].pieces[0].state.zones[0].validity == (models::condensing | models::bridged_gap));
  CHECK(std::isnan(back.vehicles[0].pieces[0].state.panel.value()) == false);
  CHECK(http::to_json(back.vehicles[0]) == http::to_json(board.vehicles[0]));
  CHECK(http::to_json(back.alerts[0]) == http::to_json(board.alerts[0]));
  CHECK(http::to_json(back) == text);
}

TEST_CASE("air with what nothing measured") {
  AirPoint point;
  point.at = test::at("2026-03-01T06:40:00Z");
  point.panel_c = std::nan("");
  point.air_speed = std::nan("");
  point.air_c = 18.5;
  const auto back = cli::parse_air(R"({"bay":"front","points":[)" + http::to_json(point) + "]}");
  REQUIRE(back.size() == 1);
  CHECK(back[0].air_c == 18.5);
  CHECK(std::isnan(back[0].panel_c));
}

TEST_CASE("events with the fields of their own kind") {
  const auto events = cli::parse_events(
      R"({"events":[{"seq":9,"entered":"2026-03-01T06:41:00.000Z","what":"inspected","at":"2026-03-01T06:40:00.000Z",)"
      R"("who":"AB","piece":12,"zone":"edge","finding":"clear","surface_c":54.444444}]})");
  REQUIRE(events.size() == 1);
  CHECK(events[0].seq == 9);
  CHECK(events[0].who == "AB");
  CHECK(events[0].fields == "piece 12, zone edge, finding clear, surface_c 54.44");
}

TEST_CASE("an answer of another kind is told by its field") {
  CHECK_THROWS_WITH(
      static_cast<void>(cli::parse_board("[]")),
      "the daemon's answer is not understood: it should be a JSON object; are daemon and client of one "
      "version?");
  CHECK_THROWS_WITH(
      static_cast<void>(cli::parse_board(R"({"now":"soon"})")),
      "the daemon's answer is not understood: now should be a time; are daemon and client of one version?");
}

TEST_CASE("a problem's detail and where [RFC 9457]") {
  CHECK(cli::parse_problem(
            R"({"type":"about:blank","status":409,"detail":"no vehicle 12","where":"/vehicle"})") ==
        "no vehicle 12 (/vehicle)");
  CHECK(cli::parse_problem("<html>").empty());
}
