// What outlooks have learnt of a bay's air outlives the daemon, however little of the journal a start
// replays.
#include <doctest/doctest.h>

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "app/journalled_shop.hpp"
#include "app/times.hpp"
#include "support/scratch_folder.hpp"
#include "support/small_shop.hpp"

namespace dryclock::app {
namespace {

using std::chrono::days;
using std::chrono::hours;
using std::chrono::minutes;

void lives(JournalledShop& shop, Time from, Time to) {
  for (Time at = from; at <= to; at += minutes{20}) {
    const double t = seconds_between(morning, at);
    shop.hears(at, "bays/front",
               fmt::format(R"({{"t":{},"h":{}}})", 19.0 + 2.0 * std::sin(t / 9'000.0),
                           50.0 + 4.0 * std::sin(t / 30'000.0)));
  }
}

VehicleId arrives(JournalledShop& shop, Time at) {
  VehicleIn in;
  in.reference = "grey-van";
  in.bay = "front";
  const VehicleId vehicle = shop.does(at, in);
  Lay lay;
  lay.vehicle = vehicle;
  lay.panel = "bonnet";
  shop.does(at, lay);
  return vehicle;
}

bool same(const std::vector<models::WeightedCourse>& one, const std::vector<models::WeightedCourse>& other) {
  const auto same_air = [](const models::Surroundings& a, const models::Surroundings& b) {
    return a.air.value() == b.air.value() && a.humidity.value() == b.humidity.value();
  };
  return std::ranges::equal(one, other, [&](const auto& a, const auto& b) {
    return a.weight == b.weight && std::ranges::equal(a.air, b.air, same_air);
  });
}

}  // namespace

// The vehicle came on the fourth day: its start replays 26 hours of the three before.
TEST_CASE("an outlook is the same to the bit after a start as before it") {
  const test::ScratchFolder folder;
  const Time thursday = morning + days{3};
  std::vector<models::WeightedCourse> before;
  {
    JournalledShop shop(folder / "a.db", support::small_shop(), morning);
    lives(shop, morning, morning + hours{30});
    lives(shop, morning + hours{35}, thursday);  // silent for five hours
    arrives(shop, thursday);
    lives(shop, thursday + minutes{10}, thursday + hours{3});
    shop.asks();
    REQUIRE(shop.forecasts().size() == 1);
    before = shop.forecasts().front();
    shop.settles();
  }
  REQUIRE(before.size() == 11);
  JournalledShop again(folder / "a.db", support::small_shop(), thursday + hours{3});
  again.asks();
  REQUIRE(again.forecasts().size() == 1);
  CHECK(same(again.forecasts().front(), before));
  // From Monday 09:00 (the hour of the first row is not whole) to Thursday 10:00 there are 74, and of the
  // silence from 13:50 to 18:50 those until 15:00 to 19:00 are none.
  CHECK(again.reader().air_hours(Time{}).value().size() == 74 - 5);
}

// By the right times all of these rows came within a moment.
TEST_CASE("hours of a clock that was wrong are forgotten") {
  const test::ScratchFolder folder;
  JournalledShop shop(folder / "a.db", support::small_shop(), morning);
  lives(shop, morning, morning + hours{6});
  arrives(shop, morning + hours{6});
  shop.settles();
  REQUIRE(shop.reader().air_hours(Time{}).value().size() == 5);
  shop.dates_anew(morning + days{7});
  shop.settles();
  CHECK(shop.reader().air_hours(Time{}).value().empty());
}

}  // namespace dryclock::app
