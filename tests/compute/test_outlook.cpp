#include "compute/outlook.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "compute_tasks.hpp"
#include "models/pace.hpp"
#include "models/piece_reach.hpp"

namespace dryclock::compute {
namespace {

using namespace std::chrono_literals;
using models::Milestone;
using test::air;
using test::item;
using test::leave;
using test::levels;
using test::now;
using test::task_of;
using test::wrap;

constexpr auto clear = static_cast<std::size_t>(Milestone::clear);

double hours(std::optional<Time> at) {
  REQUIRE(at);
  return seconds_between(now, *at) / 3600.0;
}

// Of a piece laid now in steady air, by its own traces, so many hours from now: a chance of what the shop is.
double chance_of(Milestone which, const std::vector<models::LaidPiece>& pieces, double after_hours) {
  const auto nodes = models::ShopBelief(levels).nodes("film");
  std::vector<double> all(nodes.size(), 1.0), one(nodes.size());
  for (models::LaidPiece piece : pieces) {
    const std::vector readings(static_cast<std::size_t>(std::lround(after_hours * 60.0)) + 1, air(21.0, 0.5));
    piece.advance(readings, models::Seconds{60.0});
    models::PieceReach reach(piece, {}, levels);
    reach.chances(which, piece.trace(0).size() - 1, nodes, one);
    for (std::size_t n = 0; n < all.size(); ++n) all[n] *= one[n];
  }
  double sum = 0.0;
  for (std::size_t n = 0; n < all.size(); ++n) sum += nodes[n].weight * all[n];
  return sum;
}

// A chance is shown in whole per cent: half of one.
constexpr double as_shown = 0.005;

TEST_CASE("one piece: the chance at early, likely and late is a tenth, a half and nine tenths") {
  const auto outlook = answer(task_of({item(3)}));
  CHECK(outlook.vehicle == 7);
  CHECK(outlook.revision == 42);
  CHECK(outlook.at == now);
  REQUIRE(outlook.pieces.size() == 1);
  CHECK(outlook.pieces[0].id == 3);
  for (std::size_t which = 0; which < models::milestone_kinds; ++which) {
    CAPTURE(which);
    const auto milestone = static_cast<Milestone>(which);
    const auto& spread = outlook.pieces[0].reach[which].expected;
    const auto at = [&](std::optional<Time> time) {
      return chance_of(milestone, {test::piece()}, hours(time));
    };
    CHECK(std::abs(at(spread.early) - 0.1) < as_shown);
    CHECK(std::abs(at(spread.likely) - 0.5) < as_shown);
    CHECK(std::abs(at(spread.late) - 0.9) < as_shown);
  }
  CHECK(outlook.release.likely == outlook.pieces[0].reach[leave].expected.likely);
}

TEST_CASE("the chance now, and what the zones hold, are those of the piece as it is") {
  const auto laid = test::piece(1.0, 8h);
  const auto outlook = answer(task_of({item(1, 1.0, 8h)}));
  const auto& piece = outlook.pieces.at(0);
  CHECK(piece.reach[wrap].probability == doctest::Approx(chance_of(Milestone::wrap_ready, {laid}, 0.0)));
  CHECK(outlook.release_probability == doctest::Approx(piece.reach[leave].probability));
  REQUIRE(piece.state.zones.size() == 2);
  const auto nodes = models::ShopBelief(levels).nodes("film");
  const std::size_t point = laid.trace(1).size() - 1;
  const auto edge = models::zone_holds(laid, 1, point, nodes, levels);
  CHECK(piece.state.zones[1].kind == models::ZoneKind::edge);
  CHECK(piece.state.zones[1].wet_share == edge.wet_share);
  CHECK(piece.state.zones[1].water == edge.water);
  CHECK(piece.state.panel == laid.panel());
  // It says of each zone alone what the milestone says of all.
  models::PieceReach reach(laid, {}, levels);
  CHECK(piece.state.zones[1].gone_probability ==
        doctest::Approx(reach.zone_chance(Milestone::liquid_gone, 1, point, nodes)));
  CHECK(piece.reach[wrap].limiting_zone == models::ZoneKind::edge);  // it got three times the water
}

TEST_CASE("early comes before likely, likely before late, and wetter is later") {
  const auto outlook = answer(task_of({item(1), item(2, 2.0)}));
  REQUIRE(outlook.pieces.size() == 2);
  for (const auto& piece : outlook.pieces) {
    for (const auto& reach : piece.reach) {
      CHECK(hours(reach.expected.early) < hours(reach.expected.likely));
      CHECK(hours(reach.expected.likely) < hours(reach.expected.late));
    }
  }
  CHECK(hours(outlook.pieces[1].reach[clear].expected.likely) >
        hours(outlook.pieces[0].reach[clear].expected.likely));
}

TEST_CASE("hours to go: what the air delivers until likely") {
  const auto steady = answer(task_of({item(1)}));  // 21 C and 50 %RH: standard hours are hours
  const auto& reach = steady.pieces.at(0).reach[wrap];
  REQUIRE(reach.hours_to_go);
  CHECK(*reach.hours_to_go == doctest::Approx(hours(reach.expected.likely)).epsilon(1e-3));
  auto task = task_of({item(1)});
  for (auto& s : task.forecast[0].air) s = air(15.0, 0.6);
  const auto cold = answer(task);
  const auto& slow = cold.pieces.at(0).reach[leave];
  REQUIRE(slow.hours_to_go);
  const double pace = models::pace(models::Celsius{15.0}, models::Celsius{15.0}, models::Humidity{0.6});
  // Its panel comes to 15 C within the first hour.
  CHECK(*slow.hours_to_go == doctest::Approx(pace * hours(slow.expected.likely)).epsilon(0.03));
}

// Within what the shop is the pieces are independent, and what it is they share: the product of their chances
// at each node, then mixed.
TEST_CASE("a vehicle: the product over its pieces inside what the shop is") {
  const auto outlook = answer(task_of({item(1), item(2, 1.5), item(3)}));
  const std::vector pieces{test::piece(), test::piece(1.5), test::piece()};
  CHECK(std::abs(chance_of(Milestone::may_leave, pieces, hours(outlook.release.likely)) - 0.5) < as_shown);
  CHECK(std::abs(chance_of(Milestone::may_leave, pieces, hours(outlook.release.late)) - 0.9) < as_shown);
  // Neither as if they were one, nor as if they had nothing in common.
  const double alone = chance_of(Milestone::may_leave, {test::piece(1.5)}, hours(outlook.release.likely));
  const double other = chance_of(Milestone::may_leave, {test::piece()}, hours(outlook.release.likely));
  CHECK(alone > 0.52);
  CHECK(alone * other * other < 0.48);
}

TEST_CASE("equal pieces are told equal things, and share the work") {
  const auto outlook = answer(task_of({item(1), item(2)}));
  const auto& one = outlook.pieces.at(0);
  const auto& other = outlook.pieces.at(1);
  CHECK(other.id == 2);
  for (std::size_t which = 0; which < models::milestone_kinds; ++which) {
    CHECK(one.reach[which].expected == other.reach[which].expected);
    CHECK(one.reach[which].probability == other.reach[which].probability);
  }
  CHECK(one.state.zones.at(0).water == other.state.zones.at(0).water);
}

TEST_CASE("another film of the same hands: the pieces of a vehicle still share the shop") {
  auto same = task_of({item(1), item(2)});
  auto two_films = same;
  two_films.pieces[1].film = two_films.pieces[1].belief_key = "other";
  // Nothing was seen of either film: what is known of them is the same.
  CHECK(hours(answer(two_films).release.late) == doctest::Approx(hours(answer(same).release.late)));
}

TEST_CASE("the chance of an agreed hand-over follows the spread of the release") {
  auto task = task_of({item(1)});
  const auto release = answer(task).release;
  for (const auto& [at, chance] :
       {std::pair{release.early, 0.1}, {release.likely, 0.5}, {release.late, 0.9}}) {
    task.hand_over = at;
    CHECK(answer(task).hand_over_probability.value() == doctest::Approx(chance).epsilon(1e-3));
  }
  task.hand_over = now - 1h;
  CHECK(answer(task).hand_over_probability == 0.0);
  task.hand_over = now + 9'999h;
  CHECK(answer(task).hand_over_probability.value() > 0.999);
  task.hand_over = {};
  CHECK_FALSE(answer(task).hand_over_probability);
}

TEST_CASE("nothing is released before the least indoor time is over") {
  auto task = task_of({item(1, 1.0, 48h)});
  CHECK(answer(task).release_probability > 0.9);
  task.earliest_release = now + 230h;
  task.hand_over = now + 229h;
  const auto outlook = answer(task);
  CHECK(outlook.release_probability == 0.0);
  CHECK(outlook.release.early == now + 230h);
  CHECK(outlook.release.late == now + 230h);
  CHECK(outlook.hand_over_probability == 0.0);
  CHECK(outlook.release_announces == now + 230h);
}

TEST_CASE("what the user saw clear is waited for no more, and keeps its own estimate") {
  auto task = task_of({item(1), item(2, 4.0)});
  const auto both = answer(task);
  task.pieces[1].said[leave] = {.look = {}, .ready = now, .by_word = true};
  const auto seen = answer(task);
  const auto alone = answer(task_of({item(1)}));
  CHECK(seen.release.likely == alone.release.likely);
  CHECK(hours(both.release.likely) > hours(seen.release.likely));
  CHECK(seen.pieces[1].reach[leave].probability == both.pieces[1].reach[leave].probability);
}

TEST_CASE("what is not reached within the forecast is not told") {
  const auto outlook = answer(task_of({item(1, 8.0)}, 2h));
  const auto& reach = outlook.pieces.at(0).reach[clear];
  CHECK_FALSE(reach.expected.early);
  CHECK_FALSE(reach.announces);
  CHECK_FALSE(reach.hours_to_go);
  CHECK_FALSE(outlook.release.late);
}

TEST_CASE("air that may become damper or drier widens the spread to both sides") {
  auto task = task_of({item(1)});
  const auto sure = answer(task).release;
  auto& course = task.forecast.front();
  course.weight = 0.5;
  auto damp = course;
  for (auto& air : course.air) air.humidity = models::Humidity{0.3};
  for (auto& air : damp.air) air.humidity = models::Humidity{0.7};
  task.forecast.push_back(damp);
  const auto unsure = answer(task).release;
  CHECK(hours(unsure.early) < hours(sure.early));
  CHECK(hours(unsure.late) > hours(sure.late));
}

TEST_CASE("no forecast: only now is judged, and no time is told") {
  auto task = task_of({item(1, 1.0, 30h)});
  const auto with = answer(task);
  task.forecast.clear();
  task.hand_over = now + 1h;
  const auto without = answer(task);
  CHECK(without.pieces.at(0).reach[wrap].probability ==
        doctest::Approx(with.pieces.at(0).reach[wrap].probability));
  CHECK(without.release_probability == doctest::Approx(with.release_probability));
  CHECK_FALSE(without.pieces[0].reach[wrap].expected.likely);
  CHECK_FALSE(without.pieces[0].reach[wrap].announces);
  CHECK_FALSE(without.pieces[0].reach[wrap].hours_to_go);
  CHECK_FALSE(without.release.likely);
  CHECK_FALSE(without.hand_over_probability);
  CHECK_FALSE(without.full_strength);
  CHECK_FALSE(without.announcements.empty());  // 30 h in a warm shop
}

TEST_CASE("announces: worth a look at an even chance, ready at the level once the film is known") {
  auto task = task_of({item(1)});
  const auto of = [&] { return answer(task).pieces.at(0).reach[wrap]; };
  CHECK(of().announces == of().expected.likely);
  task.known_films = {"film"};
  CHECK(of().announces == of().expected.late);
  task.announce_level = 0.5;
  CHECK(of().announces == of().expected.likely);
  task.pieces[0].said[wrap].ready = now - 1h;
  CHECK_FALSE(of().announces);
}

TEST_CASE("asked again when an announcement comes within ten minutes, and said in the answer then") {
  auto task = task_of({item(1)});
  task.pieces[0].needed = {};
  task.pieces[0].needed[wrap] = true;
  const auto foreseen = answer(task).pieces.at(0).reach[wrap].announces;
  CHECK_FALSE(answer(task).ask_again);
  const auto minutes = static_cast<int>(hours(foreseen) * 60.0);
  const auto later = [&](int after) {
    auto then = task_of({item(1, 1.0, std::chrono::minutes{after})});
    then.pieces[0].needed = task.pieces[0].needed;
    return answer(then);
  };
  const auto before = later(minutes - 5);
  REQUIRE(before.ask_again);
  CHECK(*before.ask_again - now < 10min);
  const auto after = later(minutes + 10);
  REQUIRE(after.announcements.size() == 1);
  CHECK(after.announcements[0].piece == 1);
  CHECK(after.announcements[0].which == Milestone::wrap_ready);
  CHECK(after.announcements[0].word == Word::look);
}

TEST_CASE("a step that nobody does is neither reckoned nor announced") {
  auto task = task_of({item(1, 1.0, 48h)});
  task.pieces[0].needed[wrap] = false;
  const auto outlook = answer(task);
  CHECK(outlook.pieces.at(0).reach[wrap].probability == 0.0);
  CHECK_FALSE(outlook.pieces[0].reach[wrap].expected.likely);
  CHECK(std::ranges::none_of(outlook.announcements,
                             [](const auto& one) { return one.which == Milestone::wrap_ready; }));
}

// 24 h of dwell at 20 C are 0.9 (models/bond.hpp), and begin when the liquid has gone.
TEST_CASE("full strength: a day of dwell after the liquid has gone, also beyond the forecast") {
  auto task = task_of({item(1)});
  for (auto& s : task.forecast[0].air) s = air(20.0, 0.5);
  const auto far = answer(task);
  const double likely = hours(far.pieces.at(0).reach[0].expected.likely);
  CHECK(hours(far.full_strength) > likely + 18.0);
  CHECK(hours(far.full_strength) < likely + 40.0);
  task.forecast[0].air.resize(24 * 6 + 1);  // steady: the last day that goes on is the same
  const auto near = answer(task);
  CHECK(hours(near.full_strength) == doctest::Approx(hours(far.full_strength)).epsilon(0.01));
  for (auto& s : task.forecast[0].air) s = air(8.0, 0.5);
  CHECK(hours(answer(task).full_strength) > 2.5 * hours(near.full_strength));
}

}  // namespace
}  // namespace dryclock::compute
