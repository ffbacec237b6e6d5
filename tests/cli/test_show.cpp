#include "cli/show.hpp"

#include <doctest/doctest.h>

#include "cli/some_board.hpp"

using namespace dryclock;

namespace {

LocalZone berlin() {
  return LocalZone::find("Europe/Berlin").value();
}

bool has(const std::string& text, std::string_view part) {
  return text.find(part) != std::string::npos;
}

}  // namespace

TEST_CASE("the board in local time: done, ready, likely, and what holds back") {
  const auto text = cli::show_board(test::some_board(), test::some_shop(), berlin());
  CAPTURE(text);
  CHECK(has(text, "Demo shop, Sun 07:40\n"));
  CHECK(has(text, "front:  air 18.4 C  61 %RH  dew point 10.7 C  pace 0.72  (Sun 07:39)\n"));
  CHECK(has(text, "demo-1 (vehicle 3), bay front\n"));
  CHECK(has(text, "hand-over agreed   Sun 17:00, ready by then: 87 %\n"));
  CHECK(has(text, "release-ready      Sun 11:30 (Sun 09:00 to beyond the outlook)\n"));
  CHECK(has(text, "12  bonnet            Sat 15:20  done  READY  Sun 10:10  0 %  bond 0.62\n"));
  CHECK(has(text, "warning  Sun 04:00  front is at 9.8 C, below 12 C  [bay-cold/front]\n"));
  CHECK(has(text, "Look at the heater"));
  CHECK_FALSE(has(text, "demo-0"));  // has left
  CHECK_FALSE(has(text, "mirror"));  // was pulled
}

TEST_CASE("American words and Fahrenheit") {
  auto shop = test::some_shop();
  shop.site.dialect = Dialect::us;
  shop.site.temperature = TemperatureScale::fahrenheit;
  const auto text = cli::show_board(test::some_board(), shop, berlin());
  CHECK(has(text, "hood"));
  CHECK(has(text, "air 65.1 F"));
  CHECK(has(text, "front is at 49.6 F, below 54 F"));
}

TEST_CASE("one vehicle with its zones, early steps and ended pieces") {
  const auto board = test::some_board();
  const auto text = cli::show_vehicle(board.vehicles[0], test::some_shop(), berlin());
  CAPTURE(text);
  CHECK(has(text, "bonnet (piece 12), baseline, slip, usual, laid Sat 15:20"));
  CHECK(has(text, "edge  0.4 (0.1 to 1.5)"));
  CHECK(has(text, "done early: edge-wrapped at 40 % (event 44), still wet: edge 0.4 g/m2"));
  CHECK(has(text, "mirror (piece 10)"));
  CHECK(has(text, "removed Sat 16:00"));
}

TEST_CASE("an empty shop says so") {
  Board board;
  board.now = test::at("2026-03-01T06:40:00Z");
  CHECK(has(cli::show_board(board, test::some_shop(), berlin()), "No vehicle in the shop."));
  CHECK(cli::show_alerts({}, test::some_shop(), berlin()) == "No alert.\n");
  CHECK(cli::show_vehicles(board, berlin()) == "No vehicle yet.\n");
}

TEST_CASE("the state of the daemon: what was not believed is counted, what never happened is not told") {
  auto board = test::some_board();
  board.counters.messages = 12;
  board.counters.rejects[static_cast<std::size_t>(RejectReason::not_json)] = 3;
  board.counters.rejects[static_cast<std::size_t>(RejectReason::unknown_topic)] = 1;
  Health health;
  const auto text = cli::show_status(health, board, test::some_shop(), berlin());
  CAPTURE(text);
  CHECK(has(text, "not readings: 1 unknown-topic, 3 not-json\n"));
  CHECK_FALSE(has(text, "bad-time"));
}

TEST_CASE("what is still to lay stands with the vehicle") {
  auto board = test::some_board();
  board.vehicles[0].to_lay = {{{"bonnet", 2, 2}, test::at("2026-03-20T12:00:00Z"), 0.97},
                              {{"sill", 1, 1}, {}, 0.4},
                              {{"tow bar cover", 1, 1}, {}, {}}};
  for (const auto& text : {cli::show_board(board, test::some_shop(), berlin()),
                           cli::show_vehicle(board.vehicles[0], test::some_shop(), berlin())}) {
    CAPTURE(text);
    CHECK(has(
        text,
        "  still to lay: bonnet 2/2 (by Fri 13:00), sill (late: 40 % to be dry in time), tow bar cover\n"));
  }
}

TEST_CASE("vehicles that have left: not due, due, overdue, done") {
  const auto now = test::at("2026-03-20T12:00:00Z");
  const auto left = [&](VehicleId id, const char* reference, int days) {
    HandedOver vehicle;
    vehicle.vehicle = id;
    vehicle.reference = reference;
    vehicle.released = now - std::chrono::hours{24 * days};
    vehicle.recheck_from = vehicle.released + std::chrono::hours{24 * 14};
    vehicle.recheck_until = vehicle.released + std::chrono::hours{24 * 21};
    vehicle.pieces = {{id + 1, "bonnet", 1, 1, {}, {}}, {id + 2, "mirror", 1, 1, {}, {}}};
    return vehicle;
  };
  std::vector vehicles{left(10, "new", 3), left(20, "due", 15), left(30, "late", 30), left(40, "done", 16)};
  vehicles[1].pieces[0].rechecked = now;
  for (auto& piece : vehicles[3].pieces) {
    piece.rechecked = now;
  }
  const auto text = cli::show_handed_over(vehicles, now, berlin());
  CAPTURE(text);
  CHECK(has(text, "10  new        2026-03-17 13:00  2026-03-31    2026-04-07  not due yet"));
  CHECK(has(text, "2026-03-19    2026-03-26  RECHECK DUE, 1 of 2 pieces done"));
  CHECK(has(text, "recheck overdue"));
  CHECK(has(text, "  rechecked\n"));
  CHECK(cli::show_handed_over({}, now, berlin()) == "No vehicle was handed over in the last 60 days.\n");
}

TEST_CASE("what is gone from catalogue and settings is shown by its key, and said to be gone") {
  auto board = test::some_board();
  board.vehicles[0].pieces[0].gone = {CatalogueKind::panel, CatalogueKind::film};
  board.bays[0].gone = true;
  const auto text = cli::show_vehicle(board.vehicles[0], test::some_shop(), berlin());
  CAPTURE(text);
  CHECK(has(text,
            "onnet (no longer in the catalogue) (piece 12), baseline (no longer in the catalogue), slip,"));
  CHECK(has(cli::show_board(board, test::some_shop(), berlin()),
            board.bays[0].name + " (no longer in the settings):"));
}

TEST_CASE("a step that was ready, and that the estimate has become less sure of, says so") {
  auto board = test::some_board();
  board.vehicles[0].pieces[0].milestones[1].probability = 0.72;
  CHECK(has(cli::show_board(board, test::some_shop(), berlin()), "done  READY, now 72 %  Sun 10:10"));
}
