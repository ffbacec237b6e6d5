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

struct Shop {
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
  // Every hour of the week that ends at `end`.
  void week_of(Time end, double wall, double bench, int hours = 168) {
    for (int hour = 1; hour <= hours; ++hour) {
      says("wall", end - hour * 1h + 10min, wall + hour % 3);
      says("bench", end - hour * 1h + 20min, bench + hour % 3);
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

TEST_CASE("two that part by four percent in four weeks are found, and by how much") {
  Shop shop;
  const Time now = noon + 5 * week;
  shop.week_of(now - drift_span, 50.0, 50.5);
  shop.week_of(now, 54.0, 50.5);
  const auto drift = shop.found(now);
  REQUIRE(drift);
  CHECK(drift->then_pct == doctest::Approx(-0.5));
  CHECK(drift->now_pct == doctest::Approx(3.5));
}

TEST_CASE("what was not believed does not count, and a correction between the weeks is no drift") {
  Shop shop;
  const Time now = noon + 5 * week;
  shop.week_of(now - drift_span, 50.0, 50.5);
  shop.week_of(now, 50.0, 50.5);
  for (int hour = 1; hour < 100; ++hour) {
    shop.says("wall", now - hour * 1h + 15min, 76.0, Verdict::being_checked);
  }
  shop.pair.one.slope = 1.1;
  shop.pair.one.offset = -4.0;
  const auto drift = shop.found(now);
  REQUIRE(drift);
  CHECK(drift->now_pct - drift->then_pct == doctest::Approx(0.0).epsilon(1e-9));
}

TEST_CASE("too few hours together tell nothing") {
  Shop shop;
  const Time now = noon + 5 * week;
  shop.week_of(now - drift_span, 50.0, 50.5);
  shop.week_of(now, 60.0, 50.5, 40);
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
