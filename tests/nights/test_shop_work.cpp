// What was planned and is still to lay, and what was sprayed.
#include <doctest/doctest.h>

#include <algorithm>

#include "nights/night.hpp"
#include "nights/replay.hpp"
#include "support/said.hpp"

using namespace dryclock;
using nights::Night;
using std::chrono::minutes;
using support::said;
using Lines = std::vector<std::string>;

namespace {

std::string to_lay(const Night& night, VehicleId id) {
  std::string text;
  for (const auto& vehicle : night.board().vehicles) {
    if (vehicle.id == id) {
      for (const auto& piece : vehicle.to_lay) {
        text += piece.panel + " " + std::to_string(piece.part) + "/" + std::to_string(piece.parts) + ", ";
      }
    }
  }
  return text;
}

const AlertSummary* open_alert(const std::vector<AlertSummary>& alerts, AlertRule rule) {
  const auto found =
      std::find_if(alerts.begin(), alerts.end(), [&](const auto& one) { return one.rule == rule; });
  return found == alerts.end() ? nullptr : &*found;
}

}  // namespace

TEST_CASE("the plan shrinks as pieces are laid, and grows again when one is pulled off") {
  Night night{"2026-03-02 08:00"};
  const auto van = night.arrives("grey-van", "front");
  CHECK(to_lay(night, van).empty());
  night.does(Planned{van, {{"bumper", 1, 1}, {"bonnet", 1, 1}, {"lamp", 1, 2}, {"lamp", 2, 2}}});
  CHECK(to_lay(night, van) == "bumper 1/1, bonnet 1/1, lamp 1/2, lamp 2/2, ");
  night.passes_to("09:00");
  const auto bonnet = night.lays(van, "bonnet");
  CHECK(to_lay(night, van) == "bumper 1/1, lamp 1/2, lamp 2/2, ");
  night.passes_to("10:00");
  const auto second = night.lays(van, "bonnet", "", bonnet);  // laid again: still not to lay
  CHECK(to_lay(night, van) == "bumper 1/1, lamp 1/2, lamp 2/2, ");
  night.does(PieceRemoved{second});
  CHECK(to_lay(night, van) == "bumper 1/1, bonnet 1/1, lamp 1/2, lamp 2/2, ");
  // Another plan in its place, and the mistake taken back.
  const auto mistake = night.does(Planned{van, {}});
  CHECK(to_lay(night, van).empty());
  night.does(Superseded{mistake});
  CHECK(to_lay(night, van) == "bumper 1/1, bonnet 1/1, lamp 1/2, lamp 2/2, ");
  CHECK(nights::replay(night.setup(), night.rows(), night.now()).board ==
        nights::fingerprint(night.engine()));
}

// What is planned holds the vehicle back; what the outlook says of it is shown as long as it is to lay.
TEST_CASE("a vehicle is not release-ready while a planned piece is not laid") {
  Setup setup = support::small_shop();
  setup.least_indoor = std::chrono::hours{1};
  Night night{"2026-03-02 08:00", "UTC", setup};
  night.air_is("front", 24.0, 40.0);
  night.sends_every("front", minutes{1});
  const auto van = night.arrives("grey-van", "front", {}, "2026-03-09 18:00");
  night.does(Planned{van, {{"lamp", 1, 1}, {"bonnet", 1, 1}}});
  night.passes_to("09:00");
  const auto lamp = night.lays(van, "lamp");
  night.passes_to("2026-03-05 07:00");
  night.does(Inspected{lamp, models::ZoneKind::field, models::Finding::clear});
  night.passes_to("2026-03-06 08:00");
  night.leaves_outlooks();
  night.passes_to("08:15");
  CHECK(night.timeline("release-ready").empty());
  CHECK(said(night.board().vehicles[0].held_by) == "bonnet, still to lay");

  auto tasks = night.engine().outlook_tasks();
  REQUIRE(tasks.size() == 1);
  REQUIRE(tasks[0].to_lay.size() == 1);
  CHECK(tasks[0].to_lay[0].piece == PlannedPiece{"bonnet", 1, 1});
  CHECK(tasks[0].earliest_release == night.now() + std::chrono::hours{1});
  OutlookAnswer answer;
  answer.vehicle = van;
  answer.revision = tasks[0].revision;
  answer.to_lay = {{{"bonnet", 1, 1}, night.at("2026-03-07 10:00"), 0.93}};
  CHECK_FALSE(night.engine().apply(answer).has_value());  // it announces nothing
  REQUIRE(night.board().vehicles[0].to_lay.size() == 1);
  CHECK(night.board().vehicles[0].to_lay[0].lay_by == night.at("2026-03-07 10:00"));
  CHECK(night.board().vehicles[0].to_lay[0].chance_now == 0.93);

  // Nothing more is planned: it is ready at once; planned again, it is not.
  night.answers_outlooks();
  const auto nothing_more = night.does(Planned{van, {}}, "2026-03-05 08:00");
  night.passes_to(night.now() + minutes{1});
  REQUIRE(night.board().vehicles[0].release_ready);
  night.does(Superseded{nothing_more});
  CHECK_FALSE(night.board().vehicles[0].release_ready);
  CHECK(nights::replay(night.setup(), night.rows(), night.now()).board ==
        nights::fingerprint(night.engine()));

  // Handed over without it: what is on the vehicle may leave, so nothing was released early.
  night.does(Released{van, ""});
  night.passes_to("08:30");
  const auto board = night.board();
  for (const auto& piece : board.vehicles[0].pieces) {
    CHECK(piece.early_steps.empty());
  }
  CHECK(nights::replay(night.setup(), night.rows(), night.now()).board ==
        nights::fingerprint(night.engine()));
}

TEST_CASE("a plan that cannot be is refused, with its field") {
  Night night{"2026-03-02 08:00"};
  const auto van = night.arrives("grey-van", "front");
  CHECK(night.objection(Planned{99, {{"bonnet", 1, 1}}}) == "/vehicle: no vehicle 99");
  CHECK(night.objection(Planned{van, {{"", 1, 1}}}) == "/pieces: which panel?");
  CHECK(night.objection(Planned{van, {{"bonnet", 3, 2}}}) == "/pieces: bonnet: part 3 of 2");
  CHECK(night.objection(Planned{van, {{"bonnet", 1, 1}, {"bonnet", 1, 1}}})
            .starts_with("/pieces: bonnet stands twice"));
  CHECK(night.objection(Planned{van, {{"tow bar cover", 1, 1}}}).empty());  // in the user's own words
}

// NIOSH Pocket Guide: 1 ppm of isopropyl alcohol is 2.46 mg/m3 at 25 C, and the limit 400 ppm. Here 300 g/m2
// x 1.5 m2 (the bonnet) x 0.2 = 90 g, with the lamp's 6 g 960 mg/m3 in 100 m3: 390 ppm. A second bonnet makes
// it 1860 mg/m3: 756 ppm.
TEST_CASE(
    "alcohol solution on two bonnets within the hour: told at once with its figures, over an hour later") {
  Setup setup = support::small_shop();
  setup.bays[0].volume_m3 = 100.0;
  Night night{"2026-03-02 08:00", "UTC", setup};
  night.air_is("front", 25.0, 50.0);
  night.sends_every("front", minutes{1});
  const auto lay = [&](VehicleId vehicle, const std::string& panel) {
    Lay laid;
    laid.vehicle = vehicle;
    laid.panel = panel;
    laid.film = "baseline";
    laid.solution = "tack";
    night.does(laid);
  };
  const auto van = night.arrives("grey-van", "front");
  const auto estate = night.arrives("blue-estate", "front");
  night.passes_to("08:10");
  lay(van, "bonnet");
  lay(van, "lamp");
  night.passes_to("08:30");
  CHECK(night.timeline("solvent").empty());
  lay(estate, "bonnet");
  night.passes_to("08:40");
  CHECK(night.timeline("raised solvent") == Lines{"Mon 08:30 raised solvent/front"});
  const auto alerts = night.board().alerts;
  const auto* alert = open_alert(alerts, AlertRule::solvent);
  REQUIRE(alert != nullptr);
  CHECK(alert->level == AlertLevel::urgent);
  const auto number = [&](std::string_view name) {
    return std::ranges::find(alert->what.values, name, &Value::name)->number.value_or(0.0);
  };
  CHECK(number("limit") == 400.0);
  CHECK(number("alcohol") == 186.0);
  CHECK(number("peak") == doctest::Approx(1860.0 / 2.46).epsilon(0.005));
  const auto text = said(alert->what);
  const auto advice = said(alert->advice);
  CHECK(text.find("explosive") == std::string::npos);  // a tenth of 2 % is 2000 ppm
  CHECK(advice.find("Ventilate") != std::string::npos);
  CHECK(advice.find("300 g of solution on each m²") != std::string::npos);
  CHECK((text + advice).find("is safe") == std::string::npos);
  // At 09:10 the first bonnet is an hour ago: 90 g are left in the sum.
  night.passes_to("09:20");
  CHECK(night.timeline("cleared solvent") == Lines{"Mon 09:10 cleared solvent/front"});
  CHECK(nights::replay(night.setup(), night.rows(), night.now()).board ==
        nights::fingerprint(night.engine()));
}

// 300 g/m2 x 3 m2 x 0.2 = 180 g; the catalogue's bonnet has 1.5 m2.
TEST_CASE("a piece that is laid again has the area that was entered with the first") {
  Setup setup = support::small_shop();
  setup.bays[0].volume_m3 = 100.0;
  Night night{"2026-03-02 08:00", "UTC", setup};
  night.air_is("front", 25.0, 50.0);
  night.sends_every("front", minutes{1});
  Lay laid;
  laid.vehicle = night.arrives("grey-van", "front");
  laid.panel = "bonnet";
  laid.film = "baseline";
  laid.solution = "tack";
  laid.area_m2 = 3.0;
  night.passes_to("08:10");
  laid.replaces = night.does(laid);
  laid.area_m2 = 0.0;
  night.passes_to("09:30");  // the first is more than an hour ago
  REQUIRE(open_alert(night.board().alerts, AlertRule::solvent) == nullptr);
  night.does(laid);
  night.passes_to("09:40");
  const auto alerts = night.board().alerts;
  const auto* alert = open_alert(alerts, AlertRule::solvent);
  REQUIRE(alert != nullptr);
  CHECK(std::ranges::find(alert->what.values, "alcohol", &Value::name)->number.value_or(0.0) == 180.0);
}

TEST_CASE("a bay whose volume nobody told has no such alert, nor has slip solution") {
  Setup setup = support::small_shop();
  setup.bays[1].volume_m3 = 5.0;
  Night night{"2026-03-02 08:00", "UTC", setup};
  const auto van = night.arrives("grey-van", "front");
  const auto estate = night.arrives("blue-estate", "back");
  Lay tack;
  tack.vehicle = van;
  tack.panel = "bonnet";
  tack.film = "baseline";
  tack.solution = "tack";
  night.does(tack);
  night.lays(estate, "bonnet");
  night.passes_to("09:30");
  CHECK(night.timeline("solvent").empty());
}

TEST_CASE("news names the piece as the shop does") {
  Night night{"2026-03-02 08:00"};
  night.air_is("front", 23.0, 45.0);
  night.sends_every("front", minutes{1});
  const auto van = night.arrives("grey-van", "front");
  night.passes_to("09:00");
  const auto bonnet = night.lays(van, "bonnet");
  night.passes_to("09:30");
  night.does(Inspected{bonnet, models::ZoneKind::edge, models::Finding::wet});
  night.passes_to("2026-03-05 08:00");
  bool raised = false;
  for (const auto& row : night.alerts()) {
    if (row.alert.rule == AlertRule::piece_ready) {
      raised = true;
      CHECK(support::words({Language::english_us}, wording::entries_of(night.setup().catalogue))
                .fact(row.alert.what)
                .starts_with("grey-van, hood is ready"));
    }
  }
  CHECK(raised);
}
