#include <doctest/doctest.h>

#include <boost/json/parse.hpp>
#include <boost/json/value.hpp>

#include "http/json_view.hpp"

namespace dryclock::http {
namespace {

namespace json = boost::json;

template <class T>
json::value as_read(const T& view) {
  return json::parse(to_json(view));
}

}  // namespace

// Every field against the API's description: tests/page/api.test.mjs. Here: what a schema cannot say.

TEST_CASE("absent, not a number and never are null") {
  const auto point = as_read(AirPoint{});
  CHECK(point.at("dew_point_c").is_null());
  BaySummary bay;
  Board board;
  board.bays.push_back(bay);
  CHECK(as_read(board).at("bays").at(0).at("air_c").is_null());
  CHECK(as_read(board).at("bays").at(0).at("as_of").is_null());
}

TEST_CASE("flags are words, counts stand under theirs, limiting zones under their kind") {
  PieceSummary piece;
  piece.state.zones.resize(2);
  piece.state.zones[1].kind = models::ZoneKind::recess;
  piece.state.zones[1].validity = models::condensing | models::bridged_gap;
  piece.state.limiting_zone[3] = 1;
  piece.state.limiting_zone[0] = 9;
  piece.milestones[3].which = models::Milestone::dry;
  VehicleSummary vehicle;
  vehicle.pieces.push_back(piece);
  const auto read = as_read(vehicle).at("pieces").at(0);
  CHECK(read.at("state").at("zones").at(1).at("validity") == json::parse(R"(["condensing","bridged-gap"])"));
  CHECK(read.at("milestones").at(3).at("which") == "dry");
  CHECK(read.at("milestones").at(3).at("limiting_zone") == "recess");
  CHECK(read.at("milestones").at(0).at("limiting_zone").is_null());

  Board board;
  board.counters.rejects[2] = 7;
  board.counters.verdict[8] = 3;
  CHECK(as_read(board).at("counters").at("rejects").at("not-json") == 7);
  CHECK(as_read(board).at("counters").at("verdict").at("stuck") == 3);
}

TEST_CASE("the daemon is well when all its parts are") {
  Health health{"1", {}, {{"database", true, ""}, {"broker", true, ""}}};
  CHECK(as_read(health).at("ok") == true);
  health.parts[1].ok = false;
  CHECK(as_read(health).at("ok") == false);
}

}  // namespace dryclock::http
