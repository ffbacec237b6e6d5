#include "compute/outlook.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "models/lanes.hpp"

namespace dryclock::compute {
namespace {

using namespace std::chrono_literals;

const Time now = from_unix_ms(1'772'366'400'000);
constexpr auto dry = static_cast<std::size_t>(models::Milestone::dry);

models::Surroundings air(double celsius, double humidity) {
  models::Surroundings s;
  s.air = models::Celsius{celsius};
  s.humidity = models::Humidity{humidity};
  return s;
}

models::Piece piece(std::uint64_t seed, double water = 3.0) {
  models::PieceSpec spec;
  spec.stack.layers = {{"adhesive", models::Metres{40e-6}, models::Permeability{3e-14}, 4.5, 13'000.0},
                       {"film", models::Metres{150e-6}, models::Permeability{5e-14}, 17.0, 13'000.0},
                       {"topcoat", models::Metres{10e-6}, models::Permeability{1e-14}, 15.0, 13'000.0}};
  spec.zones = {
      {.kind = models::ZoneKind::field, .water_layer = {water / 2, water, water * 2}, .edge_width = {}}};
  spec.seed = seed;
  return {spec, {}, air(21.0, 0.5)};
}

OutlookTask task_of(std::vector<OutlookTask::Item> pieces, std::chrono::hours length = 240h) {
  OutlookTask task;
  task.vehicle = 7;
  task.now = now;
  task.revision = 42;
  task.pieces = std::move(pieces);
  task.forecast = {{1.0, std::vector(static_cast<std::size_t>(length / 10min) + 1, air(21.0, 0.5))}};
  task.step = models::Seconds{600.0};
  task.earliest_release = now;
  return task;
}

double hours(std::optional<Time> at) {
  REQUIRE(at);
  return seconds_between(now, *at) / 3600.0;
}

TEST_CASE("one piece: the percentiles of its members' times") {
  const models::Piece one = piece(3);
  const models::MemberTimes times = one.look_ahead(task_of({}).forecast[0].air, models::Seconds{600.0});
  const auto outlook = answer(task_of({{.id = 3, .piece = one}}));
  CHECK(outlook.vehicle == 7);
  CHECK(outlook.revision == 42);
  REQUIRE(outlook.pieces.size() == 1);
  CHECK(outlook.pieces[0].id == 3);
  // Between two members' times a percentile may be taken at either, and a time anywhere within its forecast
  // step: the two members around the percentile, one step to either side.
  const auto between = [&](std::size_t which, double level, std::optional<Time> at) {
    models::Lanes sorted = times[which];
    std::sort(sorted.begin(), sorted.end());
    const auto next = static_cast<std::size_t>(level * models::members);
    CHECK(hours(at) >= (sorted[next - 1] - 600.0) / 3600.0);
    CHECK(hours(at) <= (sorted[next] + 600.0) / 3600.0);
  };
  for (std::size_t which = 0; which < models::milestone_kinds; ++which) {
    CAPTURE(which);
    const auto& spread = outlook.pieces[0].expected[which];
    between(which, 0.1, spread.early);
    between(which, 0.5, spread.likely);
    between(which, 0.9, spread.late);
  }
  CHECK(outlook.release.likely == outlook.pieces[0].expected[dry].likely);
}

TEST_CASE("early comes before likely, likely before late, and wetter is later") {
  const auto outlook =
      answer(task_of({{.id = 1, .piece = piece(1, 3.0)}, {.id = 2, .piece = piece(1, 8.0)}}));
  REQUIRE(outlook.pieces.size() == 2);
  for (const auto& item : outlook.pieces) {
    for (const auto& spread : item.expected) {
      CHECK(hours(spread.early) <= hours(spread.likely));
      CHECK(hours(spread.likely) <= hours(spread.late));
    }
  }
  CHECK(hours(outlook.pieces[1].expected[dry].likely) > hours(outlook.pieces[0].expected[dry].likely));
}

TEST_CASE("a vehicle waits for its last piece, and many pieces are later than one") {
  const auto slow = hours(answer(task_of({{.id = 1, .piece = piece(1, 8.0)}})).release.likely);
  const auto both = hours(
      answer(task_of({{.id = 1, .piece = piece(1, 8.0)}, {.id = 2, .piece = piece(2, 1.0)}})).release.likely);
  CHECK(both >= slow);
  CHECK(both == doctest::Approx(slow).epsilon(0.02));  // the other is long dry by then

  // Alike and independent: both are ready with the square of the chance, so the median of the pair is where
  // one piece has the chance sqrt(1/2).
  const auto pair = answer(task_of({{.id = 1, .piece = piece(1)}, {.id = 2, .piece = piece(1)}}));
  auto until = task_of({{.id = 1, .piece = piece(1)}});
  until.hand_over = pair.release.likely;
  CHECK(answer(until).hand_over_probability == doctest::Approx(std::sqrt(0.5)).epsilon(0.03));
}

TEST_CASE("the chance of an agreed hand-over follows the spread of the release") {
  auto task = task_of({{.id = 1, .piece = piece(1)}});
  const auto release = answer(task).release;
  for (const auto& [at, chance] :
       {std::pair{release.early, 0.1}, {release.likely, 0.5}, {release.late, 0.9}}) {
    task.hand_over = at;
    CHECK(answer(task).hand_over_probability == doctest::Approx(chance).epsilon(0.01));
  }
  task.hand_over = now;
  CHECK(answer(task).hand_over_probability == 0.0);
  task.hand_over = now + 9'999h;
  CHECK(answer(task).hand_over_probability == doctest::Approx(1.0));
  task.hand_over = {};
  CHECK(answer(task).hand_over_probability == 0.0);
}

TEST_CASE("nothing is released before the least indoor time is over") {
  auto task = task_of({{.id = 1, .piece = piece(1)}});
  task.earliest_release = now + 230h;
  task.hand_over = now + 229h;
  const auto outlook = answer(task);
  CHECK(outlook.release.early == now + 230h);
  CHECK(outlook.release.late == now + 230h);
  CHECK(outlook.hand_over_probability == 0.0);
}

TEST_CASE("what is not reached within the forecast is not told") {
  const auto outlook = answer(task_of({{.id = 1, .piece = piece(1, 40.0)}}, 2h));
  CHECK_FALSE(outlook.pieces.at(0).expected[dry].early);
  CHECK_FALSE(outlook.release.late);
}

TEST_CASE("air that may become damper or drier widens the spread to both sides") {
  auto task = task_of({{.id = 1, .piece = piece(1)}});
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

TEST_CASE("no forecast is no reason to fall over") {
  auto task = task_of({{.id = 1, .piece = piece(1)}});
  task.forecast.clear();
  task.hand_over = now + 1h;
  CHECK_FALSE(answer(task).release.likely);
  CHECK(answer(task).hand_over_probability == 0.0);
}

}  // namespace
}  // namespace dryclock::compute
