// A job from arrival to release: the order of things, early steps, re-lays, the time indoors.
#include <doctest/doctest.h>

#include "nights/night.hpp"
#include "nights/replay.hpp"
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
  const auto van = night.arrives("grey-van", "front", {}, "2026-03-09 17:00");
  night.passes_to("15:00");
  const auto lamp = night.lays(van, "lamp");
  night.passes_to("16:00");
  const auto bonnet = night.lays(van, "bonnet");
  night.passes_to("17:00");
  // Both are looked at, so that what is said is "ready".
  night.does(Inspected{lamp, models::ZoneKind::field, models::Finding::wet});
  night.does(Inspected{bonnet, models::ZoneKind::edge, models::Finding::wet});
  night.passes_to("2026-03-07 08:00");
  for (const auto id : {lamp, bonnet}) {
    const auto piece = night.piece(id);
    const auto gone = announced(piece, Milestone::liquid_gone);
    const auto clear = announced(piece, Milestone::clear);
    const auto leave = announced(piece, Milestone::may_leave);
    REQUIRE(gone);
    REQUIRE(clear);
    REQUIRE(leave);
    CHECK(*gone <= *clear);  // the same, with less of it wet
  }
  const auto piece = night.piece(bonnet);
  CHECK(*announced(piece, Milestone::wrap_ready) <= *announced(piece, Milestone::trim_ready));
  CHECK_FALSE(announced(night.piece(lamp), Milestone::wrap_ready));  // it has no edge
  const auto vehicle = night.board().vehicles[0];
  REQUIRE(vehicle.release_ready);
  CHECK(*vehicle.release_ready >= *announced(piece, Milestone::may_leave));
  CHECK(*vehicle.release_ready >= night.at("2026-03-02 16:00") + hours{24});
  CHECK(night.timeline("raised release-ready").size() == 1);
  night.does(Released{van, ""});
  night.passes_to("2026-03-07 08:10");
  CHECK(night.timeline("cleared release-ready").size() == 1);
  CHECK(night.board().vehicles[0].pieces[0].early_steps.empty());
  night.passes_to("2026-03-08 09:00");
  CHECK(night.board().vehicles.empty());  // gone for more than a day
}

TEST_CASE("film and hands that nobody has confirmed are called worth a look first, and ready after it") {
  Night night{"2026-03-02 14:00"};
  night.air_is("front", 23.0, 45.0);
  night.sends_every("front", minutes{1});
  const auto van = night.arrives("grey-van", "front");
  const auto bonnet = night.lays(van, "bonnet");
  const auto wrap = "wrap-ready bonnet";
  while (night.timeline(wrap).empty() && night.now() < night.at("2026-03-06 14:00")) {
    night.passes_to(night.now() + minutes{10});
  }
  REQUIRE(night.timeline(wrap).size() == 1);
  CHECK(night.timeline(std::string{"look: "} + wrap).size() == 1);
  CHECK(night.timeline("raised worth-a-look/" + std::to_string(bonnet) + ":look").size() == 1);
  night.does(Inspected{bonnet, models::ZoneKind::edge, models::Finding::clear});
  const auto seen = night.piece(bonnet);
  CHECK(announced(seen, Milestone::wrap_ready) == night.now());
  CHECK(announced(seen, Milestone::trim_ready) == night.now());
  CHECK(seen.milestones[static_cast<std::size_t>(Milestone::wrap_ready)].by_word);
  CHECK_FALSE(announced(seen, Milestone::clear));  // nobody has looked at the field
  CHECK(night.timeline("cleared worth-a-look/" + std::to_string(bonnet) + ":look").size() == 1);
  // Wrapped by what was seen: no early step.
  night.does(EdgeWrapped{bonnet});
  CHECK(night.piece(bonnet).early_steps.empty());
  CHECK(nights::replay(night.setup(), night.rows(), night.now()).board ==
        nights::fingerprint(night.engine()));
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
  night.does(Inspected{lamp, models::ZoneKind::field, models::Finding::clear});
  night.passes_to("2026-03-07 22:00");
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
  night.passes_to("2026-03-03 08:00");
  night.does(Inspected{old, models::ZoneKind::field, models::Finding::clear});
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

TEST_CASE("a look that finds water takes back what it speaks against, and superseding it undoes that") {
  Night night{"2026-03-02 08:00"};
  night.air_is("front", 22.0, 45.0);
  night.sends_every("front", minutes{1});
  const auto van = night.arrives("grey-van", "front");
  const auto bonnet = night.lays(van, "bonnet");
  night.passes_to("18:00");
  night.does(Inspected{bonnet, models::ZoneKind::edge, models::Finding::clear});
  const auto clear_field = night.does(Inspected{bonnet, models::ZoneKind::field, models::Finding::clear});
  for (std::size_t k = 0; k < models::milestone_kinds; ++k) {
    CHECK(night.piece(bonnet).milestones[k].by_word);
  }
  night.passes_to("18:30");
  const auto wet = night.does(Inspected{bonnet, models::ZoneKind::field, models::Finding::wet});
  auto piece = night.piece(bonnet);
  CHECK(announced(piece, Milestone::wrap_ready));  // asks for the edge's liquid alone
  CHECK_FALSE(announced(piece, Milestone::refit_ready));
  CHECK_FALSE(announced(piece, Milestone::clear));
  CHECK(night.timeline("taken back: refit-ready bonnet").size() == 1);
  night.does(Superseded{wet});
  CHECK(announced(night.piece(bonnet), Milestone::refit_ready));
  night.does(Superseded{clear_field});
  CHECK_FALSE(night.piece(bonnet).milestones[static_cast<std::size_t>(Milestone::refit_ready)].by_word);
  const auto hazy = night.does(Inspected{bonnet, models::ZoneKind::field, models::Finding::clear});
  night.does(Inspected{bonnet, models::ZoneKind::field, models::Finding::hazy});
  piece = night.piece(bonnet);
  CHECK_FALSE(announced(piece, Milestone::clear));
  CHECK(announced(piece, Milestone::liquid_gone));
  CHECK(hazy > wet);
  night.does(Inspected{bonnet, models::ZoneKind::edge, models::Finding::lifting});
  piece = night.piece(bonnet);
  CHECK_FALSE(announced(piece, Milestone::wrap_ready));
  CHECK_FALSE(announced(piece, Milestone::trim_ready));
  CHECK_FALSE(announced(piece, Milestone::refit_ready));
}

TEST_CASE("what one piece's look has taught moves what is said of the others, of any vehicle") {
  Night night{"2026-03-02 08:00"};
  night.air_is("front", 21.0, 50.0);
  night.sends_every("front", minutes{1});
  const auto first = night.lays(night.arrives("grey-van", "front"), "bonnet");
  const auto second = night.lays(night.arrives("blue-car", "front"), "bonnet");
  night.passes_to("20:00");
  const auto chance = [&] {
    return night.piece(second).milestones[static_cast<std::size_t>(Milestone::liquid_gone)].probability;
  };
  const double before = chance();
  night.does(Inspected{first, models::ZoneKind::field, models::Finding::wet});
  night.passes_to("20:03");
  CHECK(chance() < before);
}

// Three minutes at 80 C are an hour or so of drying at 20 C (the vapour pressure of water is 20 times as
// much), of the ten to fifteen that an edge takes.
TEST_CASE("three minutes with a heat gun along a bumper's edge hardly move when it may be wrapped") {
  const auto chance = [](bool heated) {
    Night night{"2026-03-02 08:00"};
    night.air_is("front", 20.0, 50.0);
    night.sends_every("front", minutes{1});
    const auto bumper = night.lays(night.arrives("grey-van", "front"), "bumper");
    night.passes_to("12:00");
    if (heated) {
      night.does(HeatApplied{bumper, HeatSource::heat_gun, 80.0, 3.0});
    }
    night.passes_to("12:30");
    return night.piece(bumper).milestones[static_cast<std::size_t>(Milestone::wrap_ready)].probability;
  };
  const double without = chance(false);
  const double with = chance(true);
  CHECK(with >= without);
  CHECK(with - without < 0.15);
}

TEST_CASE("a step that nobody needs is never announced nor waited for") {
  Night night{"2026-03-02 08:00"};
  night.air_is("front", 23.0, 45.0);
  night.sends_every("front", minutes{1});
  const auto van = night.arrives("grey-van", "front");
  const auto bonnet = night.lays(van, "bonnet");
  night.does(NotNeeded{bonnet, Milestone::wrap_ready, false});
  night.does(Inspected{bonnet, models::ZoneKind::edge, models::Finding::clear});
  CHECK_FALSE(announced(night.piece(bonnet), Milestone::wrap_ready));
  CHECK(announced(night.piece(bonnet), Milestone::trim_ready));
  CHECK_FALSE(night.piece(bonnet).milestones[static_cast<std::size_t>(Milestone::wrap_ready)].needed);
  night.does(NotNeeded{bonnet, Milestone::wrap_ready, true});
  CHECK(announced(night.piece(bonnet), Milestone::wrap_ready));
  CHECK(night.objection(NotNeeded{bonnet, Milestone::clear, false}).find("/which") == 0);
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
  night.leaves_outlooks();
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
  answer.at = night.now();
  answer.release.likely = night.at("2026-03-03 16:00");
  answer.release_announces = night.at("2026-03-03 17:00");
  answer.hand_over_probability = 0.1;
  CHECK_FALSE(night.engine().apply(answer));
  CHECK_FALSE(night.board().vehicles[0].release_expected.likely);
  answer.revision = night.rows().back().seq;
  answer.announcements = {{0, Milestone::may_leave, Word::look, 0.6}};
  const auto said = night.engine().apply(answer);
  REQUIRE(said);
  CHECK(*said == Announced{van, answer.at, answer.announcements});
  CHECK_FALSE(night.board().vehicles[0].release_look);  // not before it comes back as a row
  CHECK(night.board().vehicles[0].release_expected.likely == answer.release.likely);
  // Five hours after the agreed time, and never raised by a replay: it follows from no row.
  night.passes_to("15:00");
  CHECK(night.timeline("raised estimate-slipped").size() == 1);
  CHECK_FALSE(engine::follows_from_rows(AlertRule::estimate_slipped));
}
