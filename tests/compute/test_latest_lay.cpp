// "Lay by": checked against what a piece that is laid at that moment is told.
#include "compute/latest_lay.hpp"

#include <doctest/doctest.h>

#include <cmath>

#include "compute/outlook.hpp"
#include "support/grid.hpp"

namespace dryclock::compute {
namespace {

using namespace std::chrono_literals;

const Time now = from_unix_ms(1'772'366'400'000);
constexpr double step = 600.0;  // s

// A bay that cools towards the night and warms again.
std::vector<models::Surroundings> days(double hours, double shift_c) {
  std::vector<models::Surroundings> air;
  for (const double t : dryclock::test::grid(0.0, hours * 3600.0, step)) {
    const double day = 2.0 * 3.14159265358979 * t / 86'400.0;
    models::Surroundings s;
    s.air = models::Celsius{20.0 + shift_c + 3.0 * std::cos(day)};
    s.humidity = models::Humidity{0.5 - 0.05 * std::cos(day)};
    air.push_back(s);
  }
  return air;
}

models::PieceSpec spec(double water = 3.0) {
  models::PieceSpec spec;
  spec.stack.layers = {{"adhesive", models::Metres{40e-6}, models::Permeability{3e-14}, 4.5, 13'000.0},
                       {"film", models::Metres{150e-6}, models::Permeability{5e-14}, 17.0, 13'000.0},
                       {"topcoat", models::Metres{10e-6}, models::Permeability{1e-14}, 15.0, 13'000.0}};
  spec.zones = {
      {.kind = models::ZoneKind::field, .water_layer = {water / 2, water, water * 2}, .edge_width = {}}};
  spec.seed = 7;
  return spec;
}

OutlookTask task(Millis agreed, double hours = 120.0) {
  OutlookTask task;
  task.now = now;
  task.step = models::Seconds{step};
  task.forecast = {
      {1.0 / 6.0, days(hours, -2.0)}, {2.0 / 3.0, days(hours, 0.0)}, {1.0 / 6.0, days(hours, 2.0)}};
  task.hand_over = now + agreed;
  task.least_indoor = 24h;
  task.earliest_release = now;
  task.to_lay = {{{"bonnet", 1, 1}, spec()}};
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
    one.forecast = {{1.0, {air.begin() + steps, air.end()}}};
    auto there = task.to_lay[0].spec;
    there.panel_at_lay = one.forecast[0].air.front().air;
    one.pieces = {{1, models::Piece{there, task.thresholds, one.forecast[0].air.front()}}};
    sum += weight * answer(one).hand_over_probability;
  }
  return sum;
}

TEST_CASE("laid by then it is ready in time, a quarter of an hour later it is not sure any more") {
  for (const Millis agreed : {Millis{72h}, Millis{90h}, Millis{110h}}) {
    const auto asked = task(agreed);
    const auto found = latest_lay(asked.to_lay[0], asked);
    REQUIRE(found.lay_by);
    REQUIRE(found.chance_now);
    // The outlook rounds a member's time up to the forecast's step, and draws a line through the steps:
    // one step to either side.
    CHECK(chance_by_outlook(asked, *found.lay_by - 10min) >= asked.announce_level);
    CHECK(chance_by_outlook(asked, *found.lay_by + 20min) < asked.announce_level);
    CHECK(*found.chance_now >= asked.announce_level);
    CHECK(std::abs(*found.chance_now - chance_by_outlook(asked, now)) < 0.02);
  }
}

TEST_CASE("the least time indoors is kept, however fast the piece dries") {
  auto asked = task(100h);
  asked.to_lay[0].spec = spec(0.2);
  asked.thresholds.release_bond = 0.05;
  CHECK(latest_lay(asked.to_lay[0], asked).lay_by == now + 76h);
  asked.hand_over = now + 23h;
  const auto late = latest_lay(asked.to_lay[0], asked);
  CHECK_FALSE(late.lay_by);
  CHECK(late.chance_now == 0.0);
}

TEST_CASE("too late to be sure: what chance is left if it is laid now") {
  auto asked = task(30h);
  asked.to_lay[0].spec = spec(8.0);
  const auto found = latest_lay(asked.to_lay[0], asked);
  CHECK_FALSE(found.lay_by);
  REQUIRE(found.chance_now);
  CHECK(*found.chance_now < asked.announce_level);
  CHECK(std::abs(*found.chance_now - chance_by_outlook(asked, now)) < 0.02);
}

TEST_CASE("nobody knows without an agreed time or a forecast") {
  auto asked = task(90h);
  asked.hand_over.reset();
  CHECK_FALSE(latest_lay(asked.to_lay[0], asked).lay_by);
  CHECK_FALSE(latest_lay(asked.to_lay[0], asked).chance_now);
  asked = task(90h);
  asked.forecast.clear();
  CHECK_FALSE(latest_lay(asked.to_lay[0], asked).chance_now);
}

// The days are alike, so a forecast of three of them and one of eight must say the same.
TEST_CASE("beyond the forecast its last day goes on") {
  const auto shorter = task(150h, 72.0);
  const auto longer = task(150h, 192.0);
  const auto found = latest_lay(shorter.to_lay[0], shorter);
  REQUIRE(found.lay_by);
  CHECK(*found.lay_by > now + 72h);
  CHECK(found.lay_by == latest_lay(longer.to_lay[0], longer).lay_by);
}

TEST_CASE("the release waits for what is still to lay, as if it were laid now") {
  auto asked = task(90h);
  asked.forecast = {{1.0, days(120.0, 0.0)}};  // one course: then a piece laid now is the same piece in it
  auto laid_now = asked;
  laid_now.to_lay.clear();
  const auto& air = asked.forecast[0].air.front();
  auto there = spec();
  there.panel_at_lay = air.air;
  laid_now.pieces = {{1, models::Piece{there, asked.thresholds, air}}};
  const auto planned = answer(asked);
  REQUIRE(planned.to_lay.size() == 1);
  CHECK(planned.to_lay[0] == PlannedPiece{"bonnet", 1, 1});
  REQUIRE(planned.release.likely);
  CHECK(planned.release.likely == answer(laid_now).release.likely);
  CHECK(planned.hand_over_probability == answer(laid_now).hand_over_probability);
}

}  // namespace
}  // namespace dryclock::compute
