// Readings whose rows were dated anew.
#include <doctest/doctest.h>

#include <string>
#include <utility>
#include <vector>

#include "rows.hpp"
#include "support/eventually.hpp"
#include "support/scratch_folder.hpp"

namespace dryclock::store {
namespace {

using namespace std::chrono_literals;

const Time then = from_unix_ms(3'600'000);  // 1970-01-01T01:00:00Z

struct RedatedShop {
  test::ScratchFolder folder;
  std::unique_ptr<Writer> writer = open_writer(folder / "a.db");
  Seq row = 0;

  // A row and its reading, as they came.
  void hears(double value, Time at, bool own_time = false) {
    row = writer->append(message("x", at), cap).value().seq;
    auto read = reading(row, value, at);
    read.reading.source_time = own_time;
    Effects effects;
    effects.applied = row;
    effects.readings = {read};
    writer->commit(std::move(effects));
  }
  // `hours`: that became whole with the row.
  void dated_anew(Time booted, std::vector<Time> before = {}, std::vector<AirHour> hours = {}) {
    const Redated redated{"boot", booted, 1, row, {}, ClockFault::stepped};
    row = writer->append(message("told"), cap).value().seq;
    Effects effects;
    effects.applied = row;
    effects.dated_anew = DatedAnew{redated, row, std::move(before), 10s};
    effects.air_hours = std::move(hours);
    writer->commit(std::move(effects));
  }
  // Times of all readings by row, as the table has them now.
  std::map<Seq, Time> times() {
    const auto reader = open_reader(folder / "a.db");
    REQUIRE(test::eventually([&] { return reader.applied().value() == row; }));
    std::map<Seq, Time> out;
    const auto read = reader.readings("front-air", Quantity::air_temperature, Time{} - 1ms, Time::max());
    for (const auto& one : read.value()) {
      out[one.seq] = one.reading.at;
    }
    return out;
  }
  Millis boot_time(Seq seq) { return open_reader(folder / "a.db").stamp(seq).value()->boot_time; }
};

TEST_CASE("readings follow their rows; a sensor's own time stays") {
  RedatedShop shop;
  shop.hears(20.0, then);
  shop.hears(21.0, then + 5min);
  shop.hears(22.0, then + 6min, true);
  shop.dated_anew(noon);
  CHECK(shop.times() ==
        std::map<Seq, Time>{{1, noon + shop.boot_time(1)}, {2, noon + shop.boot_time(2)}, {3, then + 6min}});
  // And once more: they stand elsewhere by now.
  shop.dated_anew(noon + 72h, {noon});
  CHECK(shop.times() == std::map<Seq, Time>{{1, noon + 72h + shop.boot_time(1)},
                                            {2, noon + 72h + shop.boot_time(2)},
                                            {3, then + 6min}});
}

TEST_CASE("a reading that was right by less than the slack keeps its time") {
  RedatedShop shop;
  shop.hears(20.0, then);
  shop.dated_anew(then - shop.boot_time(1) + 9s);
  CHECK(shop.times() == std::map<Seq, Time>{{1, then}});
}

TEST_CASE("hours of air of the clock that was wrong go, and no others") {
  RedatedShop shop;
  shop.hears(20.0, then);
  shop.hears(21.0, then + 3h);
  Effects effects;
  effects.applied = shop.row;
  effects.air_hours = {{"front", then - 1h, {}},
                       {"front", then + 1h, {}},
                       {"front", then + 4h, {}},
                       {"front", noon - 720h, {}},
                       {"back", then + 4h + 5min, {}}};
  shop.writer->commit(std::move(effects));
  shop.dated_anew(noon, {}, {{"front", then + 2h, {}}});
  CHECK(shop.times().size() == 2);  // all is written
  std::vector<std::pair<std::string, Time>> left;
  for (const auto& hour : open_reader(shop.folder / "a.db").air_hours(Time{} - 1h).value()) {
    left.emplace_back(hour.bay, hour.until);
  }
  CHECK(bool{left == std::vector<std::pair<std::string, Time>>{
                         {"back", then + 4h + 5min}, {"front", then - 1h}, {"front", noon - 720h}}});
}

TEST_CASE("another boot's readings at the same time stay") {
  RedatedShop shop;
  shop.hears(20.0, noon);
  shop.writer->stop();
  shop.writer = Writer::open({.path = shop.folder / "a.db", .ballast_bytes = 0},
                             {.boot_id = "next", .version = "test", .clock_state = "", .started = noon}, {})
                    .value();
  shop.hears(21.0, noon + 1s);
  shop.dated_anew(noon + 72h);
  CHECK(shop.times() == std::map<Seq, Time>{{1, noon + 72h + shop.boot_time(1)}, {2, noon + 1s}});
}

}  // namespace
}  // namespace dryclock::store
