#include "engine/vehicle_plan.hpp"

#include <doctest/doctest.h>

#include "engine/told.hpp"
#include "support/small_shop.hpp"

using namespace dryclock;
using engine::make_plan;
using engine::VehiclePlan;
using std::chrono::hours;
using std::chrono::minutes;
using std::chrono::seconds;
using test::event;
using test::lay;
using test::morning;

namespace {

VehiclePlan plan(std::vector<Event> more) {
  VehicleIn in;
  in.reference = "grey-van";
  in.bay = "front";
  std::vector<Event> events{event(1, morning, in)};
  events.insert(events.end(), more.begin(), more.end());
  return make_plan(1, events, support::small_shop().catalogue);
}

}  // namespace

TEST_CASE("where it stands follows its moves, from the next whole minute") {
  const auto p = plan({event(2, morning + hours{1} + seconds{1}, VehicleMoved{1, "outside"}),
                       event(3, morning + hours{3}, VehicleMoved{1, "back"})});
  CHECK(p.bay_at(morning) == "front");
  CHECK(p.bay_at(morning + hours{1}) == "front");
  CHECK(p.bay_at(morning + hours{1} + minutes{1}) == "outside");
  CHECK(p.bay_at(morning + hours{5}) == "back");
  CHECK(p.bay_now() == "back");
}

TEST_CASE("zones and water come from the catalogue unless the event names them") {
  Lay named = lay(1, "door cup of a friend");
  named.zones = {models::ZoneKind::recess};
  named.wetness = models::Wetness::wet;
  const auto p =
      plan({event(2, morning + minutes{5}, lay(1, "bumper")), event(3, morning + minutes{6}, named)});
  REQUIRE(p.pieces.size() == 2);
  REQUIRE(p.pieces[0].spec.zones.size() == 3);
  CHECK(p.pieces[0].spec.zones[2].kind == models::ZoneKind::recess);
  CHECK(p.pieces[0].spec.zones[2].usual.value() == 6.5);
  CHECK(p.pieces[0].zones() ==
        std::vector{models::ZoneKind::field, models::ZoneKind::edge, models::ZoneKind::recess});
  CHECK(p.pieces[0].spec.stack.layers.size() == 3);  // the first film is the default
  REQUIRE(p.pieces[1].spec.zones.size() == 1);
  CHECK(p.pieces[1].spec.zones[0].usual.value() == 11.0);
  CHECK(p.last_laid == morning + minutes{6});
}

TEST_CASE("a re-lay ends the old piece and keeps it; the newest that is on counts as last laid") {
  Lay again = lay(1, "bonnet");
  again.replaces = 2;
  const auto p =
      plan({event(2, morning + minutes{5}, lay(1, "bonnet")), event(3, morning + hours{2}, again),
            event(4, morning + hours{3}, lay(1, "lamp")), event(5, morning + hours{4}, PieceRemoved{4})});
  CHECK(p.pieces[0].replaced_by == 3);
  CHECK(p.pieces[0].ended == morning + hours{2});
  CHECK(p.pieces[2].removed == morning + hours{4});
  CHECK(p.last_laid == morning + hours{2});
}

TEST_CASE("a panel laid in parts counts its area once; with sides each side has its own") {
  auto catalogue = support::small_shop().catalogue;
  catalogue.panels[0].sides.emplace();                               // bonnet, 1.5 m2: there is one
  catalogue.panels[2].sides = std::vector{Side::left, Side::right};  // lamp, 0.1 m2
  const auto area = [&](const char* panel, int parts, std::optional<Side> side = {}) {
    Lay laid = lay(1, panel);
    laid.parts = parts;
    laid.side = side;
    VehicleIn in;
    in.bay = "front";
    return make_plan(1, {event(1, morning, in), event(2, morning, laid)}, catalogue).pieces.at(0).area_m2;
  };
  CHECK(area("bonnet", 1) == doctest::Approx(1.5));
  CHECK(area("bonnet", 3) == doctest::Approx(0.5));
  CHECK(area("lamp", 1, Side::left) == doctest::Approx(0.1));
  CHECK(area("lamp", 2, Side::left) == doctest::Approx(0.05));
  // Nobody said which side: two parts are the left one and the right one.
  CHECK(area("lamp", 2) == doctest::Approx(0.1));
  CHECK(area("lamp", 4) == doctest::Approx(0.05));
  CHECK(area("bumper", 2) == doctest::Approx(1.2));  // settings of before sides were told: as it was then
  CHECK(area("spare wheel", 2) == doctest::Approx(0.75));
  catalogue = support::small_shop().catalogue;  // none of them tells sides
  CHECK(area("spare wheel", 2) == doctest::Approx(1.5));
}

TEST_CASE(
    "a part that is laid beside another makes that one a part, with its name and its share of the area") {
  auto catalogue = support::small_shop().catalogue;
  catalogue.panels[0].sides.emplace();
  VehicleIn in;
  in.bay = "front";
  Lay second = lay(1, "bonnet");
  second.part = second.parts = 2;
  second.place = "rear-half";
  second.beside = {{2, 1, "front-half"}};
  const auto p = make_plan(
      1, {event(1, morning, in), event(2, morning, lay(1, "bonnet")), event(3, morning + hours{1}, second)},
      catalogue);
  REQUIRE(p.pieces.size() == 2);
  CHECK(name_of_piece(p.pieces[0].lay) == PlannedPiece{"bonnet", 1, 2, {}, "front-half"});
  CHECK(name_of_piece(p.pieces[1].lay) == PlannedPiece{"bonnet", 2, 2, {}, "rear-half"});
  CHECK(p.pieces[0].area_m2 == doctest::Approx(0.75));
  CHECK_FALSE(p.pieces[0].ended);
}

TEST_CASE("what is planned is laid when it stands on its side, or when all parts of it do") {
  const auto part = [](const char* panel, int which, int parts, std::optional<Side> side = {}) {
    Lay laid = lay(1, panel);
    laid.part = which;
    laid.parts = parts;
    laid.side = side;
    return laid;
  };
  const std::vector<PlannedPiece> wanted{
      {"bonnet", 1, 1}, {"lamp", 1, 1, Side::left}, {"lamp", 1, 1, Side::right}};
  const auto left =
      plan({event(2, morning, Planned{1, wanted}), event(3, morning, part("lamp", 1, 1, Side::left)),
            event(4, morning, part("bonnet", 1, 2))});
  CHECK(left.to_lay() == std::vector<PlannedPiece>{wanted[0], wanted[2]});
  const auto whole = plan({event(2, morning, Planned{1, wanted}), event(3, morning, part("bonnet", 1, 2)),
                           event(4, morning, part("bonnet", 2, 2))});
  CHECK(whole.to_lay() == std::vector<PlannedPiece>{wanted[1], wanted[2]});
}

TEST_CASE("a lamp burns until it is switched off") {
  const auto p = plan({event(2, morning + hours{1}, LampSwitched{1, true, 300.0}),
                       event(3, morning + hours{2}, LampSwitched{1, false, 0.0})});
  CHECK(p.lamp_at(morning) == 0.0);
  CHECK(p.lamp_at(morning + hours{1}) == 300.0);
  CHECK(p.lamp_at(morning + hours{2} - minutes{1}) == 300.0);
  CHECK(p.lamp_at(morning + hours{2}) == 0.0);
}

TEST_CASE("a lamp on a piece is that piece's; off without a piece is every lamp") {
  LampSwitched edge{1, true, 400.0, 2, models::ZoneKind::edge};
  LampSwitched all{1, true, 500.0, 2};
  LampSwitched off{1, false, 0.0, 2};
  LampSwitched strong{1, true, 900.0};
  strong.tool_w = 1500.0;
  const auto p =
      plan({event(2, morning + hours{1}, lay(1, "bonnet")), event(3, morning + hours{1}, lay(1, "lamp")),
            event(4, morning + hours{2}, edge), event(5, morning + hours{3}, all),
            event(6, morning + hours{4}, off), event(7, morning + hours{5}, edge),
            event(8, morning + hours{6}, LampSwitched{1, false, 0.0}),
            event(9, morning + hours{7}, LampSwitched{1, true, 250.0, 3, models::ZoneKind::field}),
            event(10, morning + hours{8}, strong)});
  const auto& bonnet = p.pieces[0];
  CHECK(bonnet.lamp_at(morning + hours{1}).heat_w_m2 == 0.0);
  CHECK(bonnet.lamp_at(morning + hours{2}).heat_w_m2 == 400.0);
  CHECK(bonnet.lamp_at(morning + hours{2}).zone == models::ZoneKind::edge);
  CHECK(bonnet.lamp_at(morning + hours{3}).heat_w_m2 == 500.0);
  CHECK_FALSE(bonnet.lamp_at(morning + hours{3}).zone);
  CHECK(bonnet.lamp_at(morning + hours{4}).heat_w_m2 == 0.0);
  CHECK(bonnet.lamp_at(morning + hours{5}).heat_w_m2 == 400.0);
  CHECK(bonnet.lamp_at(morning + hours{6}).heat_w_m2 == 0.0);
  // The only zone of a piece is all of it.
  CHECK(p.pieces[1].lamp_at(morning + hours{7}).heat_w_m2 == 250.0);
  CHECK_FALSE(p.pieces[1].lamp_at(morning + hours{7}).zone);
  CHECK(p.lamp_at(morning + hours{7}) == 0.0);
  // 0.5 x 1500 W over the bonnet's 1.5 m2 and the lamp's 0.1.
  CHECK(p.lamp_at(morning + hours{8}) == doctest::Approx(750.0 / 1.6));
}

TEST_CASE("a heating is along the edges unless it is said where; without an edge it is everywhere") {
  HeatApplied recess{3, HeatSource::heat_gun, 50.0, 10.0};
  recess.zone = models::ZoneKind::recess;
  const auto p =
      plan({event(2, morning + hours{1}, lay(1, "bonnet")), event(3, morning + hours{1}, lay(1, "bumper")),
            event(4, morning + hours{1}, lay(1, "lamp")),
            event(5, morning + hours{2}, HeatApplied{2, HeatSource::heat_gun, 50.0, 10.0}),
            event(6, morning + hours{2}, recess),
            event(7, morning + hours{2}, HeatApplied{4, HeatSource::heat_gun, 50.0, 10.0})});
  using Zones = std::vector<models::ZoneKind>;
  for (const auto& piece : p.pieces) {
    REQUIRE(piece.heatings.size() == 1);
    CHECK(piece.heatings[0].from == morning + hours{2});
    CHECK(piece.heatings[0].span == minutes{10});
  }
  CHECK(p.pieces[0].heatings[0].zones == Zones{models::ZoneKind::edge});
  CHECK(p.pieces[1].heatings[0].zones == Zones{models::ZoneKind::recess});
  CHECK(p.pieces[2].heatings[0].zones == Zones{models::ZoneKind::field});
}

TEST_CASE("steps are needed as the panel's entry says, until somebody says otherwise; none without an edge") {
  using models::Milestone;
  const auto p =
      plan({event(2, morning + hours{1}, lay(1, "bonnet")), event(3, morning + hours{1}, lay(1, "lamp")),
            event(4, morning + hours{2}, NotNeeded{2, Milestone::refit_ready, false}),
            event(5, morning + hours{2}, NotNeeded{3, Milestone::wrap_ready, true})});
  const auto needed = [&](std::size_t piece, Milestone which) {
    return p.pieces.at(piece).needed[static_cast<std::size_t>(which)];
  };
  CHECK(needed(0, Milestone::wrap_ready));
  CHECK(needed(0, Milestone::trim_ready));
  CHECK_FALSE(needed(0, Milestone::refit_ready));
  CHECK(needed(0, Milestone::may_leave));
  CHECK_FALSE(needed(1, Milestone::wrap_ready));
  CHECK(needed(1, Milestone::refit_ready));
}

TEST_CASE("without an arrival that stands there is no vehicle") {
  CHECK_FALSE(make_plan(1, {event(2, morning, lay(1, "bonnet"))}, support::small_shop().catalogue).valid);
}
