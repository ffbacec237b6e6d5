#include <doctest/doctest.h>

#include <algorithm>

#include "rows.hpp"
#include "support/scratch_folder.hpp"

namespace dryclock::store {
namespace {

using namespace std::chrono_literals;

struct JournalOnDisk {
  test::ScratchFolder folder;
  std::unique_ptr<Writer> writer = open_writer(folder / "a.db");

  Seq append(RowKind kind, Time at) {
    auto entry = message("x", at);
    entry.kind = kind;
    return writer->append(entry, cap).value().seq;
  }
  [[nodiscard]] Reader reader() const { return open_reader(folder / "a.db"); }
};

TEST_CASE("an empty journal has no extent") {
  JournalOnDisk shop;
  const auto reader = shop.reader();
  CHECK(reader.extent().value().last == 0);
  CHECK(reader.applied().value() == 0);
  CHECK(reader.rows(1, 10).value().empty());
}

TEST_CASE("rows come in pages") {
  JournalOnDisk shop;
  for (int i = 0; i < 25; ++i) {
    shop.append(RowKind::message, noon + i * 1s);
  }
  const auto reader = shop.reader();
  Seq expected = 1;
  for (auto page = reader.rows(1, 10).value(); !page.empty(); page = reader.rows(expected, 10).value()) {
    CHECK(page.size() <= 10);
    for (const auto& row : page) {
      CHECK(row.seq == expected++);
    }
  }
  CHECK(expected == 26);
  const auto extent = reader.extent().value();
  CHECK(extent.first == 1);
  CHECK(extent.last == 25);
  CHECK(extent.first_at == noon);
  CHECK(extent.last_at == noon + 24s);
}

TEST_CASE("a walk takes every row once, in order, to where it is told to stop") {
  JournalOnDisk shop;
  for (int i = 0; i < 25; ++i) {
    shop.append(RowKind::message, noon + i * 1s);
  }
  const auto reader = shop.reader();
  std::vector<Seq> seen;
  const auto note = [&](const JournalRow& row) {
    seen.push_back(row.seq);
    return true;
  };
  REQUIRE(reader.walk(3, 100, note).has_value());
  REQUIRE(seen.size() == 23);
  CHECK(seen.front() == 3);
  CHECK(seen.back() == 25);
  CHECK(std::ranges::is_sorted(seen));
  seen.clear();
  REQUIRE(reader.walk(3, 7, note).has_value());
  CHECK(seen.back() == 7);
  int taken = 0;
  REQUIRE(reader.walk(1, 25, [&](const JournalRow&) { return ++taken < 4; }).has_value());
  CHECK(taken == 4);
}

TEST_CASE("events are found without the messages between them") {
  JournalOnDisk shop;
  for (int i = 0; i < 30; ++i) {
    shop.append(i % 10 == 3 ? RowKind::event : RowKind::message, noon);
  }
  const auto events = shop.reader().rows_of(RowKind::event).value();
  REQUIRE(events.size() == 3);
  CHECK(events[1].seq == 14);
}

TEST_CASE("rows of a kind are found by their topic, or with none, up to a row") {
  JournalOnDisk shop;
  for (const auto* topic : {"vehicle/1", "", "vehicle/2", "vehicle/1", "", "vehicle/1"}) {
    auto entry = message("x", noon, topic);
    entry.kind = RowKind::shown;
    REQUIRE(shop.writer->append(entry, cap).has_value());
  }
  shop.append(RowKind::message, noon);
  const auto rows = shop.reader().rows_of(RowKind::shown, "vehicle/1", 5).value();
  std::vector<Seq> found;
  std::ranges::transform(rows, std::back_inserter(found), &JournalRow::seq);
  CHECK(found == std::vector<Seq>{1, 2, 4, 5});
}

TEST_CASE("an alert is open from when it is raised until it is cleared") {
  JournalOnDisk shop;
  Effects effects;
  auto cleared = alert(AlertStep::cleared, noon);
  cleared.alert.cleared = noon + 1h;
  effects.alerts = {cleared, alert(AlertStep::raised, noon + 2h)};
  shop.writer->commit(effects);
  shop.writer->stop();
  const auto reader = shop.reader();
  CHECK(reader.alerts_open_at(noon - 1ms).value().empty());
  CHECK(reader.alerts_open_at(noon).value().size() == 1);
  CHECK(reader.alerts_open_at(noon + 1h - 1ms).value().size() == 1);
  CHECK(reader.alerts_open_at(noon + 1h).value().empty());
  CHECK(reader.alerts_open_at(noon + 3h).value().at(0).raised == noon + 2h);
}

TEST_CASE("readings of one sensor and quantity, in order of their own time, end included") {
  JournalOnDisk shop;
  Effects effects;
  effects.readings = {reading(1, 20.0, noon + 2s), reading(2, 21.0, noon, Verdict::late),
                      reading(3, 22.0, noon + 1s)};
  auto moved = reading(4, 23.0, noon + 3s);  // the sensor hangs in another bay now
  moved.reading.bay = "back";
  auto other = reading(5, 55.0, noon + 1s);
  other.reading.quantity = Quantity::relative_humidity;
  effects.readings.push_back(moved);
  effects.readings.push_back(other);
  shop.writer->commit(effects);
  shop.writer->stop();
  const auto found = shop.reader().readings("front-air", Quantity::air_temperature, noon, noon + 3s).value();
  REQUIRE(found.size() == 3);
  CHECK(found[0].seq == 3);
  CHECK(found[1].seq == 1);
  CHECK(found[2].reading == moved.reading);
}

TEST_CASE("hours of air come back to the last bit, the newest word of each, after a time") {
  JournalOnDisk shop;
  const models::AirMean air{19.0 + 1.0 / 3.0, 1000.0 / 7.0};
  Effects effects;
  effects.air_hours = {{"front", noon + 1h, {1.0, 2.0}}, {"front", noon, air}, {"back", noon + 1h, air}};
  shop.writer->commit(effects);
  effects.air_hours = {{"front", noon + 1h, air}};
  shop.writer->commit(effects);
  shop.writer->stop();
  const auto hours = shop.reader().air_hours(noon).value();
  REQUIRE(hours.size() == 2);
  CHECK(hours[0].bay == "back");
  CHECK(hours[1].bay == "front");
  for (const auto& hour : hours) {
    CHECK(hour.until == noon + 1h);
    CHECK(hour.mean.temperature == air.temperature);
    CHECK(hour.mean.vapour == air.vapour);
  }
}

TEST_CASE("a reader sees what is committed while it is open") {
  JournalOnDisk shop;
  const auto reader = shop.reader();
  shop.append(RowKind::message, noon);
  CHECK(reader.extent().value().last == 1);
}

TEST_CASE("no database there is a problem, and none is made") {
  const test::ScratchFolder folder;
  CHECK_FALSE(Reader::open(folder / "a.db").has_value());
  CHECK_FALSE(std::filesystem::exists(folder / "a.db"));
}

}  // namespace
}  // namespace dryclock::store
