// A job from arrival to release: the order of things, early steps, re-lays, the time indoors.
#include <doctest/doctest.h>

#include "nights/night.hpp"
#include "support/said.hpp"

using namespace dryclock;
using models::Milestone;
using nights::Night;
using std::chrono::hours;
using std::chrono::minutes;
using support::said;
using Lines = std::vector<std::string>;

namespace {

std::optional<Time> announced(const PieceSummary& piece, Milestone which) {
  return piece.milestones[static_cast<std::size_t>(which)].announced;
}

}  // namespace

TEST_CASE("milestones come in the order of what they ask, release not before 24 h indoors") {
  Night night{"2026-03-02 14:00"};
  night.air_is("front", 23.0, 45.0);
  night.sends_every("front", minutes{1});
  const auto van = night.arrives("grey-van", "front", {}, "2026-03-06 17:00");
  night.passes_to("15:00");
  const auto lamp = night.lays(van, "lamp");
  night.passes_to("16:00");
  const auto bonnet = night.lays(van, "bonnet");
  night.passes_to("2026-03-05 08:00");
  for (const auto id : {lamp, bonnet}) {
    const auto piece = night.piece(id);
    const auto refit = announced(piece, Milestone::refit_ready);
    const auto dry = announced(piece, Milestone::dry);
    REQUIRE(refit);
    REQUIRE(dry);
    CHECK(*refit <= *dry);  // the same, with less bond
    CHECK(*announced(piece, Milestone::wrap_ready) <= *dry);
    // The bond law reaches 0.9 after 24 h at 23 C (usual statement for acrylic tapes, from memory), and
    // begins when the liquid has gone.
    CHECK(*dry > piece.laid + hours{24});
  }
  const auto vehicle = night.board().vehicles[0];
  REQUIRE(vehicle.release_ready);
  CHECK(*vehicle.release_ready >= *announced(night.piece(bonnet), Milestone::dry));
  CHECK(*vehicle.release_ready >= night.at("2026-03-02 16:00") + hours{24});
  CHECK(night.timeline("raised release-ready").size() == 1);
  night.does(Released{van, ""});
  night.passes_to("2026-03-05 08:10");
  CHECK(night.timeline("cleared release-ready").size() == 1);
  CHECK(night.board().vehicles[0].pieces[0].early_steps.empty());
  night.passes_to("2026-03-06 09:00");
  CHECK(night.board().vehicles.empty());  // gone for more than a day
}

TEST_CASE("time outside does not count, and nothing dries there that anyone could vouch for") {
  Night night{"2026-03-02 08:00"};
  night.air_is("front", 25.0, 35.0);
  night.sends_every("front", minutes{1});
  const auto van = night.arrives("grey-van", "front");
  const auto lamp = night.lays(van, "lamp");
  night.passes_to("12:00");
  const double before = night.piece(lamp).standard_hours;
  night.does(VehicleMoved{van, "outside"});
  night.passes_to("22:00");
  CHECK(night.piece(lamp).standard_hours == doctest::Approx(before).epsilon(0.01));
  CHECK((night.piece(lamp).state.validity & models::bridged_gap) != 0);
  night.does(VehicleMoved{van, "front"});
  night.passes_to("2026-03-05 22:00");
  const auto vehicle = night.board().vehicles[0];
  REQUIRE(vehicle.release_ready);
  CHECK(*vehicle.release_ready >= night.at("2026-03-03 18:00"));  // 4 h before, 20 h after the 10 h outside
}

TEST_CASE("a step before its time is done all the same, and kept for the record") {
  Night night{"2026-03-02 14:00"};
  night.air_is("front", 20.0, 50.0);
  night.sends_every("front", minutes{1});
  const auto van = night.arrives("grey-van", "front");
  const auto bumper = night.lays(van, "bumper");
  night.passes_to("16:00");
  const auto wrapped = night.does(EdgeWrapped{bumper});
  // It shows at once, before the next reading has come.
  REQUIRE(night.piece(bumper).early_steps.size() == 1);
  night.passes_to("17:00");
  const auto early = night.piece(bumper).early_steps;
  REQUIRE(early.size() == 1);
  CHECK(early[0].event == wrapped);
  CHECK(early[0].step == "edge-wrapped");
  CHECK(early[0].probability < 0.9);
  CHECK(said(early[0].still_wet).find("recess") != std::string::npos);
  CHECK(night.piece(bumper).wrapped == night.at("2026-03-02 16:00"));

  night.does(Released{van, "recess still wet: no jet wash for a week"});
  night.passes_to("17:10");
  REQUIRE(night.piece(bumper).early_steps.size() == 2);
  CHECK(night.piece(bumper).early_steps[1].step == "released");
}

TEST_CASE("a re-lay starts a new clock, keeps the old piece's history, and takes the release back") {
  Night night{"2026-03-02 08:00"};
  night.air_is("front", 25.0, 35.0);
  night.sends_every("front", minutes{1});
  const auto van = night.arrives("grey-van", "front");
  const auto old = night.lays(van, "lamp");
  night.passes_to("2026-03-05 08:00");
  REQUIRE(night.board().vehicles[0].release_ready);
  const auto again = night.lays(van, "lamp", "", old);
  night.passes_to("2026-03-05 08:05");
  const auto vehicle = night.board().vehicles[0];
  CHECK_FALSE(vehicle.release_ready);
  CHECK(night.timeline("taken back: release-ready").size() == 1);
  CHECK(night.timeline("cleared release-ready").size() == 1);
  REQUIRE(vehicle.pieces.size() == 2);
  CHECK(vehicle.pieces[0].id == again);  // what is on comes first
  CHECK(vehicle.pieces[0].replaces == old);
  CHECK(vehicle.pieces[1].replaced_by == again);
  CHECK(night.piece(old).standard_hours > 24.0);
  CHECK(night.piece(again).standard_hours < 0.3);
  CHECK_FALSE(vehicle.held_by.key.empty());
}

TEST_CASE("an inspection that finds water takes an announcement back") {
  Night night{"2026-03-02 08:00"};
  night.air_is("front", 22.0, 45.0);
  night.sends_every("front", minutes{1});
  const auto van = night.arrives("grey-van", "front");
  const auto lamp = night.lays(van, "lamp");
  while (night.timeline("wrap-ready lamp").empty() && night.now() < night.at("2026-03-05 08:00")) {
    night.passes_to(night.now() + minutes{1});
  }
  const double sure = night.piece(lamp).milestones[0].probability;
  CHECK(sure >= 0.9);
  for (int i = 0; i < 3; ++i) {
    night.does(Inspected{lamp, models::ZoneKind::field, models::Finding::wet});
  }
  night.passes_to(night.now() + minutes{3});
  CHECK(night.piece(lamp).milestones[0].probability < sure);
  CHECK(night.timeline("taken back: wrap-ready lamp").size() == 1);
}

TEST_CASE("a colder night dries less; a history point an hour, water never rising") {
  const auto water_after = [](double air_c, double rh_pct) {
    Night night{"2026-03-02 18:00"};
    night.air_is("front", air_c, rh_pct);
    night.sends_every("front", minutes{1});
    const auto bonnet = night.lays(night.arrives("grey-van", "front"), "bonnet");
    night.passes_to("01:00");
    const auto history = night.engine().history(bonnet, hours{1}).value();
    REQUIRE(history.size() == 7);
    for (std::size_t i = 1; i < history.size(); ++i) {
      CHECK(history[i].at - history[i - 1].at == hours{1});
      CHECK(history[i].zones[0].water.likely <= history[i - 1].zones[0].water.likely);
    }
    return history.back().zones[0].water.likely;
  };
  CHECK(water_after(21.0, 50.0) < water_after(16.0, 65.0));
  CHECK(water_after(16.0, 65.0) < water_after(10.0, 80.0));
}

TEST_CASE("what cannot be is refused, with what and where") {
  Night night{"2026-03-02 08:00"};
  night.air_is("front", 21.0, 50.0);
  night.sends_every("front", minutes{1});
  night.passes_to("08:30");
  const auto van = night.arrives("grey-van", "front");
  night.passes_to("09:00");
  const auto bonnet = night.lays(van, "bonnet");

  CHECK(night.objection(Noted{99}) == "/vehicle: no vehicle 99");
  CHECK(night.objection(Trimmed{99}) == "/piece: no piece 99");
  CHECK(night.objection(VehicleMoved{van, "attic"}) == "/bay: no bay \"attic\"; known: outside, front, back");
  CHECK(night.objection(VehicleIn{"grey-van", "front", {}, {}, {}, {}}).find("in the shop already") !=
        std::string::npos);
  CHECK(night.objection(VehicleIn{"red", "front", night.at("2026-03-02 07:00"), {}, {}, {}})
            .find("/hand_over") == 0);
  CHECK(night.objection(Trimmed{bonnet}, "08:50") ==
        "/at: bonnet was laid on Mon 2 Mar 09:00, which is later");
  CHECK(night.objection(Trimmed{bonnet}, "09:05") == "");
  CHECK(night.objection(Trimmed{bonnet}, "09:06").find("future") != std::string::npos);
  CHECK(night.objection(Inspected{bonnet, models::ZoneKind::recess, models::Finding::wet}).find("/zone") ==
        0);
  CHECK(night.objection(AlertAcknowledged{"dew/1"}).find("/alert") == 0);
  CHECK(night.objection(Superseded{12345}) == "/event: no event 12345");
  Lay lay;
  lay.vehicle = van;
  lay.panel = "bonnet";
  lay.film = "glass";
  CHECK(night.objection(lay) == "/film: no film \"glass\"; known: baseline, open");
  lay.film = "";
  lay.solution = "tea";
  CHECK(night.objection(lay) == "/solution: no solution \"tea\"; known: slip, tack");
  lay.solution = "";
  lay.panel = "bonet";
  CHECK(night.objection(lay).find("/panel: no panel \"bonet\"; known: bonnet, bumper, lamp") == 0);
  lay.zones = {models::ZoneKind::field};
  CHECK(night.objection(lay) == "");

  night.does(Released{van, ""});
  CHECK(night.objection(lay).find("handed over") != std::string::npos);
  CHECK(night.objection(Released{van, ""}).find("handed over") != std::string::npos);
  CHECK(night.objection(Rechecked{bonnet, RecheckFinding::sound}) == "");
  CHECK(night.objection(Rechecked{bonnet, RecheckFinding::lifting, models::ZoneKind::edge}) == "");
  CHECK(night.objection(Rechecked{bonnet, RecheckFinding::sound, models::ZoneKind::edge}).find("/zone") !=
        std::string::npos);
}

TEST_CASE(
    "an outlook is handed out once, again after ten minutes or an event, and an old answer is dropped") {
  Night night{"2026-03-02 14:00"};
  night.air_is("front", 21.0, 50.0);
  night.sends_every("front", minutes{1});
  const auto van = night.arrives("grey-van", "front", {}, "2026-03-03 12:00");
  night.lays(van, "bonnet");
  night.passes_to("14:30");
  const auto tasks = night.engine().outlook_tasks();
  REQUIRE(tasks.size() == 1);
  CHECK(tasks[0].pieces.size() == 1);
  CHECK(tasks[0].forecast.at(0).air.size() == 72 * 12 + 1);
  CHECK(tasks[0].earliest_release == night.at("2026-03-03 14:00"));
  CHECK(night.engine().outlook_tasks().empty());
  night.passes_to("14:39");
  CHECK(night.engine().outlook_tasks().empty());
  night.passes_to("14:40");
  CHECK(night.engine().outlook_tasks().size() == 1);
  night.does(Noted{van});
  CHECK(night.engine().outlook_tasks().size() == 1);

  OutlookAnswer answer;
  answer.vehicle = van;
  answer.revision = tasks[0].revision;
  answer.release.likely = night.at("2026-03-03 16:00");
  night.engine().apply(answer);
  CHECK_FALSE(night.board().vehicles[0].release_expected.likely);
  answer.revision = night.rows().back().seq;
  night.engine().apply(answer);
  CHECK(night.board().vehicles[0].release_expected.likely == answer.release.likely);
  // Four hours after the agreed time, and never raised by a replay: it follows from no row.
  night.passes_to("15:00");
  CHECK(night.timeline("raised estimate-slipped").size() == 1);
  CHECK_FALSE(engine::follows_from_rows(AlertRule::estimate_slipped));
}
