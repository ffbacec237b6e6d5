#include "wire/answer_json.hpp"

#include <doctest/doctest.h>

#include <boost/json/parse.hpp>
#include <boost/json/value.hpp>
#include <cmath>
#include <limits>

namespace dryclock::wire {
namespace {

namespace json = boost::json;

template <class T>
json::value as_read(const T& view) {
  return json::parse(to_json(view));
}

// A problem's place and words; empty: it was read.
template <class T>
std::string wrong_with(std::string_view text) {
  const auto read = read_answer<T>(text);
  return read ? "" : to_string(read.error());
}

Board one_piece() {
  PieceSummary piece;
  piece.id = 9;
  piece.panel = "bonnet";
  piece.state.zones.resize(2);
  piece.state.zones[0].water = {0.1, 0.4, std::numeric_limits<double>::quiet_NaN()};
  piece.state.zones[1].kind = models::ZoneKind::recess;
  piece.state.zones[1].validity = models::condensing | models::bridged_gap;
  piece.state.panel = models::Celsius{17.5};
  piece.milestones[3].which = models::Milestone::refit_ready;
  piece.milestones[3].limiting_zone = models::ZoneKind::recess;
  VehicleSummary vehicle;
  vehicle.id = 3;
  vehicle.hand_over_probability = 0.75;
  vehicle.to_lay.push_back({{"sill", 2, 2}, {}, 0.25});
  vehicle.pieces.push_back(piece);
  Board board;
  board.vehicles.push_back(vehicle);
  board.bays.emplace_back();
  board.counters.rejects[2] = 7;
  board.counters.verdict[8] = 3;
  return board;
}

}  // namespace

// Every field against the API's description: tests/page/test_api.mjs. Here: what a schema cannot say.

TEST_CASE("absent, not a number and never are null") {
  const auto point = as_read(AirAnswer{"front", {}, {}, 1, {AirPoint{}}}).at("points").at(0);
  CHECK(point.at("dew_point_c").is_null());
  const auto bay = as_read(one_piece()).at("bays").at(0);
  CHECK(bay.at("air_c").is_null());
  CHECK(bay.at("as_of").is_null());
}

TEST_CASE("flags are words, counts stand under theirs, a limiting zone is its kind") {
  const auto board = as_read(one_piece());
  const auto& piece = board.at("vehicles").at(0).at("pieces").at(0);
  CHECK(piece.at("state").at("zones").at(1).at("validity") == json::parse(R"(["condensing","bridged-gap"])"));
  CHECK(piece.at("milestones").at(3).at("which") == "refit-ready");
  CHECK(piece.at("milestones").at(3).at("limiting_zone") == "recess");
  CHECK(piece.at("milestones").at(0).at("limiting_zone").is_null());
  CHECK(board.at("counters").at("rejects").at("not-json") == 7);
  CHECK(board.at("counters").at("verdict").at("stuck") == 3);
}

TEST_CASE("what a shape takes over from another stands beside its own fields") {
  const auto to_lay = as_read(one_piece()).at("vehicles").at(0).at("to_lay").at(0);
  CHECK(to_lay ==
        json::parse(
            R"({"panel":"sill","side":null,"part":2,"parts":2,"place":"","lay_by":null,"chance_now":0.25})"));
}

TEST_CASE("an event within an answer is one as it may be sent, and water stands by zone and wetness") {
  CouponView coupon;
  coupon.id = 4;
  coupon.coupon = {"baseline", "L7", "front", 0.09, 0.9};
  coupon.result = FilmMeasured{"baseline", "L7", 2.5e9, 0.12, 4, 9};
  const auto read = as_read(CouponsAnswer{{coupon}}).at("coupons").at(0);
  CHECK(read.at("film") == "baseline");
  CHECK(read.at("measured").is_null());
  CHECK(read.at("result").at("what") == "film-measured");
  CHECK(read.at("result").at("coupon") == 4);
  BondCouponView strips;
  strips.id = 5;
  strips.coupon = {"baseline", "", "front", ""};
  strips.pulls.push_back({6, {}, 8.5});
  strips.result = BondMeasured{"baseline", "", 5, {{1.0, 1.5, 8.5}}};
  const auto bond = as_read(CouponsAnswer{{}, {strips}}).at("bond_coupons").at(0);
  CHECK(bond.at("film") == "baseline");
  CHECK(bond.at("pulls").at(0).at("peel") == 8.5);
  CHECK(bond.at("result").at("what") == "bond-measured");
  CHECK(bond.at("result").at("strips").at(0).at("arrhenius_h") == 1.5);
  CatalogueView catalogue;
  catalogue.water[1][2] = 9.0;
  catalogue.water[2][3] = 40.0;
  CHECK(as_read(catalogue).at("water").at("edge").at("wet").to_number<double>() == 9.0);
  CHECK(as_read(catalogue).at("water").at("recess").at("pooled").to_number<double>() == 40.0);
}

TEST_CASE("what was written is read back") {
  const auto board = read_answer<Board>(to_json(one_piece()));
  REQUIRE(board.has_value());
  const auto& vehicle = board->vehicles.at(0);
  const auto& piece = vehicle.pieces.at(0);
  CHECK(piece.panel == "bonnet");
  CHECK(piece.state.panel.value() == 17.5);
  CHECK(piece.state.zones.at(0).water.likely == 0.4);
  CHECK(std::isnan(piece.state.zones.at(0).water.high));
  CHECK(piece.state.zones.at(1).validity == (models::condensing | models::bridged_gap));
  CHECK(piece.milestones[3].limiting_zone == models::ZoneKind::recess);
  CHECK(!piece.milestones[0].limiting_zone);
  CHECK(vehicle.hand_over_probability == 0.75);
  CHECK(vehicle.to_lay.at(0).panel == "sill");
  CHECK(vehicle.to_lay.at(0).chance_now == 0.25);
  CHECK(board->counters.verdict[8] == 3);
}

TEST_CASE("an answer of another kind is told by its field") {
  CHECK(wrong_with<Board>("[]") == "must be an object, not []");
  CHECK(wrong_with<Board>(R"({"now":"soon"})").starts_with("/now: "));
  CHECK(wrong_with<Board>(R"({"now":"2026-03-01T06:40:00Z"})") == "/applied: is missing");
  CHECK(wrong_with<Permission>(R"({"may_write":null})") == "/may_write: is missing");
  CHECK(wrong_with<Permission>(R"({"may_write":1})") == "/may_write: must be true or false, not 1");
  CHECK(wrong_with<Permission>(R"({"may_write":true,"of a later version":1})").empty());
  CHECK(wrong_with<Permission>("{").starts_with("not JSON"));
}

// As programs before facts wrote it to the outbox.
TEST_CASE("an alert that was sent as sentences is read, and said as it was told") {
  const auto alert = read_alert(
      R"({"id":"bay-cold/front","rule":"bay-cold","subject":"front","level":"urgent",)"
      R"("raised":"2026-03-07T14:20:00.000Z","cleared":null,"acknowledged":null,)"
      R"("text":"front is at 9.4 C and has been below 12.0 C for 10 min.","advice":"Shut the doors."})");
  REQUIRE(alert.has_value());
  CHECK(alert->id == "bay-cold/front");
  CHECK(alert->subject == "front");
  CHECK(alert->level == AlertLevel::urgent);
  CHECK(alert->raised == parse_rfc3339("2026-03-07T14:20:00Z").value());
  const std::string what = "front is at 9.4 C and has been below 12.0 C for 10 min.";
  CHECK(bool{alert->what == Fact{"alerts.as-told", {say::text("text", what)}}});
  CHECK(alert->what.words == what);
  CHECK(bool{alert->advice == Fact{"alerts.as-told", {say::text("text", "Shut the doors.")}}});
  CHECK(alert->advice.words == "Shut the doors.");
}

TEST_CASE("an alert that an earlier program sent is read") {
  const auto alert = read_alert(R"({"id":"dew/7","rule":"dew","subject":"7","level":"urgent"})");
  REQUIRE(alert.has_value());
  CHECK(alert->rule == AlertRule::dew);
  CHECK(alert->level == AlertLevel::urgent);
  CHECK_FALSE(read_alert(R"({"reference":"van","bay":"front"})").has_value());
  CHECK_FALSE(read_alert("gone").has_value());
}

}  // namespace dryclock::wire
