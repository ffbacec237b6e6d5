// "Lay by": checked against what a piece that is laid at that moment is told.
#include "compute/latest_lay.hpp"

#include <doctest/doctest.h>

#include <cmath>

#include "compute/outlook.hpp"
#include "compute_tasks.hpp"
#include "support/grid.hpp"

namespace dryclock::compute {
namespace {

using namespace std::chrono_literals;
using test::levels;
using test::now;

constexpr double step = test::forecast_step;

PieceToLay found_for(const OutlookTask& task) {
  const auto nodes = models::ShopBelief(levels).nodes("film");
  return latest_lay(task.to_lay[0], task, levels, nodes);
}

// A bay that cools towards the night and warms again.
std::vector<models::Surroundings> days(double hours, double shift_c) {
  std::vector<models::Surroundings> air;
  for (const double t : dryclock::test::grid(0.0, hours * 3600.0, step)) {
    const double day = 2.0 * 3.14159265358979 * t / 86'400.0;
    air.push_back(test::air(20.0 + shift_c + 3.0 * std::cos(day), 0.5 - 0.05 * std::cos(day)));
  }
  return air;
}

OutlookTask task(Millis agreed, double hours = 120.0, double times = 1.0) {
  OutlookTask task;
  task.now = now;
  task.step = models::Seconds{step};
  task.forecast = {
      {1.0 / 6.0, days(hours, -2.0)}, {2.0 / 3.0, days(hours, 0.0)}, {1.0 / 6.0, days(hours, 2.0)}};
  task.hand_over = now + agreed;
  task.least_indoor = 24h;
  task.earliest_release = now;
  task.to_lay = {{{"bonnet", 1, 1}, "film", test::spec(times)}};
  return task;
}

// The chance that the outlook gives a vehicle with this one piece, laid at `start`.
double chance_by_outlook(const OutlookTask& task, Time start) {
  const auto steps = static_cast<std::ptrdiff_t>(std::llround(seconds_between(task.now, start) / step));
  double sum = 0.0;
  for (const auto& [weight, air] : task.forecast) {
    OutlookTask one;
    one.now = start;
    one.earliest_release = start;
    one.step = task.step;
    one.hand_over = task.hand_over;
    one.thresholds = task.thresholds;
    one.forecast = {{1.0, {air.begin() + steps, air.end()}}};
    const auto& at_lay = one.forecast[0].air.front();
    one.pieces = {
        {.id = 1, .film = "film", .piece = laid(task.to_lay[0].spec, at_lay), .needed = {}, .said = {}}};
    sum += weight * answer(one).hand_over_probability.value();
  }
  return sum;
}

TEST_CASE("laid by then it may leave in time, an hour later it is not sure any more") {
  for (const Millis agreed : {Millis{72h}, Millis{90h}, Millis{110h}}) {
    const auto asked = task(agreed, 120.0, 2.0);
    const auto found = found_for(asked);
    REQUIRE(found.lay_by);
    REQUIRE(found.chance_now);
    REQUIRE(*found.lay_by < now + agreed - 24h);  // the least time indoors is not what ends it
    // The outlook follows the chance through a few moments only.
    CHECK(chance_by_outlook(asked, *found.lay_by) >= asked.announce_level - 0.005);
    CHECK(chance_by_outlook(asked, *found.lay_by + 1h) < asked.announce_level);
    CHECK(*found.chance_now >= asked.announce_level);
    CHECK(std::abs(*found.chance_now - chance_by_outlook(asked, now)) < 0.005);
  }
}

TEST_CASE("the least time indoors is kept, however fast the piece dries") {
  auto asked = task(100h, 120.0, 0.1);
  asked.thresholds.leave_bond = 0.05;
  CHECK(found_for(asked).lay_by == now + 76h);
  asked.hand_over = now + 23h;
  const auto late = found_for(asked);
  CHECK_FALSE(late.lay_by);
  CHECK(late.chance_now == 0.0);
}

TEST_CASE("too late to be sure: what chance is left if it is laid now") {
  const auto asked = task(30h, 120.0, 3.0);
  const auto found = found_for(asked);
  CHECK_FALSE(found.lay_by);
  REQUIRE(found.chance_now);
  CHECK(*found.chance_now > 0.02);
  CHECK(*found.chance_now < asked.announce_level);
  CHECK(std::abs(*found.chance_now - chance_by_outlook(asked, now)) < 0.005);
}

TEST_CASE("nobody knows without an agreed time or a forecast") {
  auto asked = task(90h);
  asked.hand_over.reset();
  CHECK_FALSE(found_for(asked).lay_by);
  CHECK_FALSE(found_for(asked).chance_now);
  asked = task(90h);
  asked.forecast.clear();
  CHECK_FALSE(found_for(asked).chance_now);
}

// The days are alike, so a forecast of three of them and one of eight must say the same.
TEST_CASE("beyond the forecast its last day goes on") {
  const auto shorter = task(150h, 72.0);
  const auto longer = task(150h, 192.0);
  const auto found = found_for(shorter);
  REQUIRE(found.lay_by);
  CHECK(*found.lay_by > now + 72h);
  CHECK(found.lay_by == found_for(longer).lay_by);
}

TEST_CASE(
    "the release waits for what is still to lay, as if it were laid now; equal ones are told equal times") {
  auto asked = task(90h);
  asked.forecast = {{1.0, days(120.0, 0.0)}};  // one course: then a piece laid now is the same piece in it
  asked.to_lay.push_back({{"bonnet", 2, 2}, "film", test::spec()});
  auto laid_now = asked;
  laid_now.to_lay.clear();
  const auto& air = asked.forecast[0].air.front();
  const OutlookTask::Item one{
      .id = 1, .film = "film", .piece = laid(test::spec(), air), .needed = {}, .said = {}};
  laid_now.pieces = {one, one};
  const auto planned = answer(asked);
  REQUIRE(planned.to_lay.size() == 2);
  CHECK(planned.to_lay[0] == PlannedPiece{"bonnet", 1, 1});
  CHECK(planned.to_lay[1] == PlannedPiece{"bonnet", 2, 2});
  CHECK(planned.to_lay[0].lay_by == found_for(asked).lay_by);
  CHECK(planned.to_lay[1].lay_by == planned.to_lay[0].lay_by);
  REQUIRE(planned.release.likely);
  CHECK(planned.release.likely == answer(laid_now).release.likely);
  CHECK(planned.hand_over_probability == answer(laid_now).hand_over_probability);
  CHECK(planned.full_strength == answer(laid_now).full_strength);
}

}  // namespace
}  // namespace dryclock::compute
