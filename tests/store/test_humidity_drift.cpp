#include "store/humidity_drift.hpp"

#include <doctest/doctest.h>

#include "rows.hpp"
#include "support/eventually.hpp"
#include "support/scratch_folder.hpp"

namespace dryclock::store {
namespace {

using namespace std::chrono_literals;

constexpr std::chrono::hours week{7 * 24};

SensorMapping humidity_of(const std::string& sensor) {
  SensorMapping mapping;
  mapping.sensor = sensor;
  mapping.bay = "front";
  mapping.quantity = Quantity::relative_humidity;
  mapping.unit = Unit::percent;
  return mapping;
}

struct PairedShop {
  test::ScratchFolder folder;
  std::unique_ptr<Writer> writer = open_writer(folder / "a.db");
  SensorPair pair{humidity_of("wall"), humidity_of("bench")};

  void says(const std::string& sensor, Time at, double raw, Verdict verdict = Verdict::ok) {
    Effects effects;
    effects.applied = writer->append(message("x", at), cap).value().seq;
    effects.readings.push_back(
        {effects.applied, {sensor, "front", Quantity::relative_humidity, at, true, raw, raw}, verdict});
    writer->commit(std::move(effects));
  }
  // Every third hour of `days` before `end`; the wall shows `wall` then, and `per_week` less a week before.
  // Both scatter about it, as the bay's air does.
  void lives(Time end, int days, double wall, double bench, double per_week, double from_day = 0.0) {
    for (int hour = 1; hour <= 24 * days; hour += 3) {
      const double before = hour / 24.0;
      const double drifted = per_week * std::max(-before / 7.0, -from_day / 7.0);
      says("wall", end - hour * 1h + 10min, wall + drifted + hour % 5);
      says("bench", end - hour * 1h + 20min, bench + hour % 5 + 0.2 * (hour % 2));
    }
  }
  [[nodiscard]] std::optional<Drift> found(Time now) {
    const auto last = writer->append(message("end", now), cap).value().seq;
    Effects effects;
    effects.applied = last;
    writer->commit(std::move(effects));
    const auto reader = open_reader(folder / "a.db");
    REQUIRE(test::eventually([&] { return reader.applied().value() == last; }));
    return drift_of(reader, pair, now).value();
  }
};

}  // namespace

TEST_CASE("two that part slowly over eight weeks are found, and by how much") {
  PairedShop shop;
  const Time now = noon + 9 * week;
  shop.lives(now, 56, 54.0, 50.0, 0.5, 56.0);  // half a percent a week: 2 % in four weeks would not be told
  const auto drift = shop.found(now);
  REQUIRE(drift);
  CHECK(drift->weeks == 8);
  CHECK(drift->now_pct - drift->then_pct == doctest::Approx(0.5 * 8).epsilon(0.05));
  CHECK(drift->now_pct == doctest::Approx(4.0).epsilon(0.1));
}

TEST_CASE("what has begun three weeks ago is seen by the shorter line") {
  PairedShop shop;
  const Time now = noon + 9 * week;
  shop.lives(now, 56, 56.0, 50.0, 2.0, 21.0);  // 6 % within three weeks, nothing before
  const auto drift = shop.found(now);
  REQUIRE(drift);
  CHECK(drift->weeks == 4);
  CHECK(drift->now_pct - drift->then_pct > drift_pct);
}

TEST_CASE("a difference that stays is no drift, however large, and a scatter is none") {
  PairedShop shop;
  const Time now = noon + 9 * week;
  shop.lives(now, 56, 60.0, 50.0, 0.0);
  const auto drift = shop.found(now);
  REQUIRE(drift);
  CHECK(drift->now_pct - drift->then_pct == doctest::Approx(0.0));
  CHECK(drift->now_pct == doctest::Approx(9.9).epsilon(0.02));
}

TEST_CASE("what was not believed does not count, and a correction is no drift") {
  PairedShop shop;
  const Time now = noon + 9 * week;
  shop.lives(now, 56, 50.0, 50.0, 0.0);
  for (int hour = 1; hour < 100; ++hour) {
    shop.says("wall", now - hour * 1h + 15min, 76.0, Verdict::being_checked);
  }
  shop.pair.one.slope = 1.1;
  shop.pair.one.offset = -4.0;
  const auto drift = shop.found(now);
  REQUIRE(drift);
  CHECK(drift->now_pct - drift->then_pct == doctest::Approx(0.0));
}

TEST_CASE("too few days together tell nothing") {
  PairedShop shop;
  const Time now = noon + 9 * week;
  SUBCASE("the sensors are new") {
    shop.lives(now, 18, 60.0, 50.0, 3.0, 18.0);
  }
  SUBCASE("they have been silent since") {
    shop.lives(now - 3 * week, 35, 60.0, 50.0, 3.0, 35.0);
  }
  CHECK_FALSE(shop.found(now));
}

TEST_CASE("pairs are of one bay and of humidity") {
  auto elsewhere = humidity_of("back");
  elsewhere.bay = "back";
  auto temperature = humidity_of("bench");
  temperature.quantity = Quantity::air_temperature;
  const auto pairs = humidity_pairs({humidity_of("wall"), temperature, humidity_of("bench"), elsewhere});
  REQUIRE(pairs.size() == 1);
  CHECK(drift_subject(pairs[0]) == "wall+bench");
}

}  // namespace dryclock::store
