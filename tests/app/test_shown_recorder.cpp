// Which rows of what was shown are written, and when.
#include "app/shown_recorder.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "app/times.hpp"
#include "ingest/decode.hpp"
#include "support/core_shop.hpp"
#include "support/judged_by_age.hpp"
#include "support/small_shop.hpp"

namespace dryclock::app {
namespace {

using std::chrono::hours;
using std::chrono::minutes;
using std::chrono::seconds;
using support::CoreShop;

constexpr auto wrap = static_cast<std::size_t>(models::Milestone::wrap_ready);
constexpr auto clear = static_cast<std::size_t>(models::Milestone::clear);

// A vehicle with a bonnet, laid at 8:30 in a warm, dry bay.
struct ShownShop {
  CoreShop shop{support::small_shop(), support::judged_by_age};
  Time now = morning;
  VehicleId vehicle = 0;
  PieceId bonnet = 0;

  ShownShop() {
    passes_to(morning + minutes{20});
    VehicleIn arrival;
    arrival.reference = "grey-van";
    arrival.bay = "front";
    vehicle = shop.does(now, arrival);
    passes_to(morning + minutes{40});
    bonnet = lay("bonnet");
  }
  PieceId lay(const std::string& panel) {
    Lay lay;
    lay.vehicle = vehicle;
    lay.panel = panel;
    lay.film = "baseline";
    lay.solution = "slip";
    return shop.does(now, lay);
  }
  void passes_to(Time t) {
    for (; now < t; now += minutes{1}) {
      // Air that is never quite still: a sensor that sends the very same would not be believed.
      const auto beat = now.time_since_epoch() / minutes{1} % 5;
      shop.hears(now + seconds{10}, "bays/front",
                 R"({"t":21.)" + std::to_string(beat) + R"(,"h":48.0)" + std::to_string(beat) + "}");
    }
  }
  std::vector<Shown> of(ShownWhy why) const {
    auto rows = shop.shown();
    std::erase_if(rows, [&](const Shown& row) { return row.why != why; });
    return rows;
  }
  const PieceSummary& piece_shown(const Board& board) const { return board.vehicles.at(0).pieces.at(0); }
};

}  // namespace

TEST_CASE("a deed's row stands right before it, and says what the board said then") {
  ShownShop shop;
  shop.passes_to(morning + hours{5});
  const Board board = shop.shop.core().board();
  const Seq deed = shop.shop.does(shop.now, EdgeWrapped{shop.bonnet});
  const auto& row = shop.shop.rows().at(static_cast<std::size_t>(deed) - 2);
  REQUIRE(row.seq == deed - 1);
  CHECK(row.kind == RowKind::shown);
  CHECK(row.message.topic == "vehicle/" + std::to_string(shop.vehicle));
  CHECK(row.message.received_at == shop.now);
  const auto deeds = shop.of(ShownWhy::deed);
  REQUIRE(deeds.size() == 1);
  const auto& piece = deeds[0].vehicle->pieces.at(0);
  CHECK(piece.piece == shop.bonnet);
  const auto& view = shop.piece_shown(board);
  REQUIRE(piece.milestones[wrap].has_value());
  // Kept to 1/1000: it is half of that off at most, and what the last bits of both add.
  CHECK(std::abs(piece.milestones[wrap]->probability - view.milestones[wrap].probability) <= 0.0005 + 1e-12);
  CHECK(view.milestones[wrap].probability > 0.9);
  CHECK(piece.milestones[wrap]->announced.has_value());  // it is over four hours old
  CHECK(view.milestones[wrap].announced.has_value());
}

TEST_CASE("a deed that comes too early tells what held it back") {
  ShownShop shop;
  shop.passes_to(morning + hours{2});
  const Board board = shop.shop.core().board();
  shop.shop.does(shop.now, EdgeWrapped{shop.bonnet});
  const auto deeds = shop.of(ShownWhy::deed);
  REQUIRE(deeds.size() == 1);
  const auto& told = deeds[0].vehicle->pieces.at(0).milestones[wrap];
  REQUIRE(told.has_value());
  CHECK_FALSE(told->announced);
  CHECK_FALSE(told->held_by.empty());
  CHECK(told->held_by == shop.piece_shown(board).milestones[wrap].held_by.words);
}

TEST_CASE("trims, refits, inspections and releases have theirs; other events and refused ones have none") {
  ShownShop shop;
  shop.passes_to(morning + hours{2});
  CHECK(shop.shop.does(shop.now, Trimmed{99}) == 0);
  CHECK(shop.shop.does(shop.now, EdgeOpened{shop.bonnet}) != 0);
  CHECK(shop.of(ShownWhy::deed).empty());
  const Seq lamp = shop.lay("lamp");
  shop.shop.does(shop.now, Trimmed{shop.bonnet});
  shop.shop.does(shop.now, Inspected{shop.bonnet, models::ZoneKind::edge, models::Finding::hazy});
  shop.shop.does(shop.now, Refitted{shop.bonnet});
  CHECK(shop.of(ShownWhy::deed).size() == 3);
  shop.shop.does(shop.now, Released{shop.vehicle, ""});
  const auto deeds = shop.of(ShownWhy::deed);
  REQUIRE(deeds.size() == 4);
  REQUIRE(deeds[3].vehicle->pieces.size() == 2);  // all that is on it
  CHECK(deeds[3].vehicle->pieces[1].piece == lamp);
  CHECK(deeds[3].vehicle->release.has_value());
}

TEST_CASE("what is announced has one row, which says so; and its alert has one") {
  ShownShop shop;
  shop.passes_to(morning + hours{60});
  std::size_t told = 0, alerts = 0;
  for (const auto& effects : shop.shop.effects()) {
    told += effects.milestones.empty() && effects.releases.empty() ? 0U : 1U;
    alerts += effects.alerts.empty() ? 0U : 1U;
  }
  const auto rows = shop.of(ShownWhy::announced);
  REQUIRE(told >= 4);
  CHECK(rows.size() == told);
  CHECK(shop.of(ShownWhy::taken_back).empty());
  const auto& first = rows[0].vehicle->pieces.at(0);
  bool announced = false;
  for (const auto& milestone : first.milestones) {
    announced = announced || (milestone && milestone->announced && *milestone->announced <= rows[0].at);
  }
  CHECK(announced);
  // A vehicle's alerts stand in the row of what was announced with them.
  const auto raised = shop.shop.shown();
  CHECK(std::ranges::count_if(raised, [](const Shown& row) { return !row.alerts.empty(); }) >=
        static_cast<std::ptrdiff_t>(alerts));
  bool ready = false;
  for (const auto& row : raised) {
    for (const auto& alert : row.alerts) {
      const bool it = alert.rule == AlertRule::piece_ready && alert.step == AlertStep::raised;
      ready = ready || it;
      CHECK((!it || row.vehicle->vehicle == shop.vehicle));
      CHECK(alert.text.empty() == (alert.step == AlertStep::cleared));
    }
  }
  CHECK(ready);
}

TEST_CASE("what the user saw settles a step, and the row says by whose word") {
  ShownShop shop;
  shop.passes_to(morning + hours{2});
  REQUIRE(shop.shop.does(shop.now, Inspected{shop.bonnet, models::ZoneKind::edge, models::Finding::clear}) !=
          0);
  const auto rows = shop.of(ShownWhy::announced);
  REQUIRE(!rows.empty());
  const auto& told = rows.back().vehicle->pieces.at(0).milestones[wrap];
  REQUIRE(told.has_value());
  CHECK(told->announced.has_value());
  CHECK(told->by_word);
}

TEST_CASE("what is worth a look is told as announced, and once") {
  ShownShop shop;
  shop.passes_to(shop.now + minutes{5});
  OutlookAnswer answer;
  answer.vehicle = shop.vehicle;
  answer.revision = shop.bonnet;  // the newest row about the vehicle
  answer.at = shop.now;
  answer.announcements = {{shop.bonnet, models::Milestone::wrap_ready, Word::look, 0.5}};
  shop.shop.core().apply(answer);
  shop.passes_to(shop.now + minutes{2});
  const auto rows = shop.of(ShownWhy::announced);
  REQUIRE(rows.size() == 1);
  const auto& told = rows[0].vehicle->pieces.at(0).milestones[wrap];
  REQUIRE(told.has_value());
  CHECK(told->look.has_value());
  CHECK_FALSE(told->announced);
}

TEST_CASE("what is taken back has its row") {
  ShownShop shop;
  shop.passes_to(morning + hours{60});
  REQUIRE(!shop.of(ShownWhy::announced).empty());
  REQUIRE(shop.shop.does(shop.now, Inspected{shop.bonnet, models::ZoneKind::edge, models::Finding::wet}) !=
          0);
  std::size_t back = 0;
  for (const auto& effects : shop.shop.effects()) {
    const auto is_back = [](const auto& row) { return row.word == Word::taken_back; };
    back +=
        std::ranges::any_of(effects.milestones, is_back) || std::ranges::any_of(effects.releases, is_back);
  }
  CHECK(back > 0);
  CHECK(shop.of(ShownWhy::taken_back).size() == back);
}

TEST_CASE(
    "each open vehicle has a row an hour; it leaves out what has not changed, and steps that are done") {
  ShownShop shop;
  shop.passes_to(morning + hours{3});
  auto hourly = shop.of(ShownWhy::hourly);
  REQUIRE(hourly.size() == 2);  // at 9 and 10: at 8 none was in the shop, it came at 8:10
  CHECK(hourly[0].at == parse_rfc3339("2026-03-02T09:00:00Z").value());
  REQUIRE(hourly[0].vehicle->pieces.size() == 1);
  for (const auto& milestone : hourly[0].vehicle->pieces[0].milestones) {
    CHECK(milestone.has_value());
  }
  CHECK(hourly[0].vehicle->pieces[0].water.has_value());
  shop.shop.does(shop.now, EdgeWrapped{shop.bonnet});
  shop.shop.restarts(shop.shop.rows().back().seq);  // what was told before is forgotten: the next tells all
  shop.passes_to(morning + hours{4});
  hourly = shop.of(ShownWhy::hourly);
  REQUIRE(hourly.size() == 3);
  REQUIRE(hourly[2].vehicle->pieces.size() == 1);
  CHECK(!hourly[2].vehicle->pieces[0].milestones[wrap].has_value());
  CHECK(hourly[2].vehicle->pieces[0].milestones[clear].has_value());
  shop.passes_to(morning + hours{140});  // dry for long
  CHECK(shop.of(ShownWhy::hourly).back().vehicle->pieces.empty());
  shop.shop.does(shop.now, Released{shop.vehicle, ""});
  const auto before = shop.of(ShownWhy::hourly).size();
  shop.passes_to(shop.now + hours{3});
  CHECK(shop.of(ShownWhy::hourly).size() == before);
}

TEST_CASE("a step that nobody will do is left out, unless it is done after all") {
  ShownShop shop;
  REQUIRE(shop.shop.does(shop.now, NotNeeded{shop.bonnet, models::Milestone::wrap_ready}) != 0);
  shop.passes_to(morning + hours{2});
  shop.shop.does(shop.now, Inspected{shop.bonnet, models::ZoneKind::field, models::Finding::hazy});
  shop.shop.does(shop.now, EdgeWrapped{shop.bonnet});
  const auto hourly = shop.of(ShownWhy::hourly);
  REQUIRE(!hourly.empty());
  const auto& first = hourly[0].vehicle->pieces.at(0).milestones;
  CHECK_FALSE(first[wrap].has_value());
  CHECK(first[clear].has_value());
  const auto deeds = shop.of(ShownWhy::deed);
  REQUIRE(deeds.size() == 2);
  CHECK_FALSE(deeds[0].vehicle->pieces.at(0).milestones[wrap].has_value());
  CHECK(deeds[0].vehicle->pieces.at(0).milestones[clear].has_value());
  CHECK(deeds[1].vehicle->pieces.at(0).milestones[wrap].has_value());
}

TEST_CASE("a replay writes nothing, and a row that was not committed writes its own once") {
  ShownShop shop;
  shop.passes_to(morning + hours{30});
  shop.shop.does(shop.now, EdgeWrapped{shop.bonnet});
  const auto rows = shop.shop.rows().size();
  shop.shop.restarts(static_cast<Seq>(rows));
  CHECK(shop.shop.rows().size() == rows);
  shop.shop.restarts(0);
  CHECK(shop.shop.rows().size() == rows);
}

TEST_CASE("nothing in the engine follows from such rows") {
  ShownShop shop;
  shop.passes_to(morning + hours{10});
  engine::Engine with{support::small_shop()}, without{support::small_shop()};
  const Setup setup = support::small_shop();
  for (const auto& row : shop.shop.rows()) {
    const Effects effects = with.apply(row, ingest::decode(row, setup.mappings));
    if (row.kind == RowKind::shown) {
      CHECK(effects.alerts.empty());
      CHECK(effects.applied == row.seq);
    } else {
      static_cast<void>(without.apply(row, ingest::decode(row, setup.mappings)));
    }
  }
  const JournalRow late{.seq = 99'999,
                        .kind = RowKind::shown,
                        .message = {.topic = {}, .payload = "{}", .received_at = shop.now + hours{9}}};
  static_cast<void>(with.apply(late, {}));
  CHECK(with.board().now == without.board().now);
  const auto a = with.vehicle(shop.vehicle), b = without.vehicle(shop.vehicle);
  REQUIRE((a && b));
  CHECK(a->pieces.at(0).standard_hours > 0.0);
  CHECK(a->pieces.at(0).standard_hours == b->pieces.at(0).standard_hours);
  CHECK(a->pieces.at(0).milestones[wrap].announced.has_value());
  CHECK(a->pieces.at(0).milestones[wrap].announced == b->pieces.at(0).milestones[wrap].announced);
}

TEST_CASE(
    "a message that reached its channel has a row with its outcome; what states something on MQTT has none") {
  ShownShop shop;
  const auto before = shop.shop.shown().size();
  const std::string subject = std::to_string(shop.bonnet) + ":wrap-ready";
  const std::string payload =
      R"({"id":"piece-ready/)" + subject + R"(","rule":"piece-ready","subject":")" + subject + R"("})";
  shop.shop.core().settled({"phone", "It is so.", payload, false}, {7, OutboxStep::delivered, {}, {}});
  shop.shop.core().settled({"mqtt", "alert/x", payload, true}, {8, OutboxStep::delivered, {}, {}});
  shop.shop.core().settled({"mail", "It is so.", payload, false}, {9, OutboxStep::given_up, {}, "no route"});
  shop.passes_to(shop.now + minutes{1});
  const auto rows = shop.of(ShownWhy::delivered);
  CHECK(shop.shop.shown().size() == before + 2);
  REQUIRE(rows.size() == 2);
  CHECK(bool{rows[0].deliveries.at(0) == ShownDelivery{"phone", "piece-ready/" + subject, {}}});
  CHECK(rows[0].vehicle->vehicle == shop.vehicle);
  CHECK(bool{rows[1].deliveries.at(0) == ShownDelivery{"mail", "piece-ready/" + subject, "no route"}});
}

TEST_CASE("alerts of the daemon itself have rows of the shop") {
  ShownShop shop;
  shop.shop.core().raise(AlertRule::disk_low, "disk", {"alerts.disk-low"});
  shop.shop.core().clear(AlertRule::disk_low, "disk");
  shop.passes_to(shop.now + minutes{1});
  std::vector<AlertStep> steps;
  for (const auto& row : shop.of(ShownWhy::alert)) {
    for (const auto& alert : row.alerts) {
      if (alert.rule == AlertRule::disk_low) {
        steps.push_back(alert.step);
        CHECK(!row.vehicle);
      }
    }
  }
  CHECK(bool{steps == std::vector{AlertStep::raised, AlertStep::cleared}});
}

}  // namespace dryclock::app
