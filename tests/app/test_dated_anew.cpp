// A running shop whose rows get other times.
#include <doctest/doctest.h>

#include <algorithm>

#include "app/journalled_shop.hpp"
#include "app/times.hpp"
#include "base/clock.hpp"
#include "support/core_shop.hpp"
#include "support/scratch_folder.hpp"
#include "support/small_shop.hpp"
#include "wire/event_json.hpp"
#include "wire/setup_json.hpp"

namespace dryclock::app {
namespace {

using namespace std::chrono_literals;

const Time of_no_clock = from_unix_ms(3'600'000);  // 1970-01-01T01:00:00Z

const std::string cold = R"({"t":3.5,"h":50.5})";

bool has(const std::vector<std::string>& alerts, std::string_view id) {
  return std::ranges::any_of(alerts, [&](const auto& one) { return one.starts_with(id); });
}

// What a deed at the door is answered, once the shop has gone on.
http::SubmitAnswer answer_to(support::CoreShop& shop, Time t, const std::function<void()>& meanwhile) {
  VehicleIn in;
  in.reference = "lot 5";
  in.bay = "front";
  Event event;
  event.at = event.entered = t;
  event.key = "one-key";
  event.detail = in;
  http::SubmitAnswer told = http::Refused{};
  int answers = 0;
  shop.core().submit(wire::to_json(event), t, [&](const http::SubmitAnswer& answer) {
    told = answer;
    ++answers;
  });
  meanwhile();
  shop.ticks(t);
  CHECK(answers == 1);
  return told;
}

TEST_CASE("what is still on its way to the tables when times change is taken once, and told once") {
  const test::ScratchFolder folder;
  Time now = monday;
  JournalledShop shop(folder / "a.db", support::small_shop(), now);
  for (int minute = 0; minute < 20; ++minute) {
    now += 1min;
    shop.hears_as_times_change(now, "bays/front", cold);
  }
  CHECK(has(shop.open_on_board(), "bay-cold/front"));
  CHECK(shop.times_raised("bay-cold/front") == 1);
  CHECK(shop.open_on_board() == shop.open_in_table());
  CHECK(shop.told_otherwise() == std::vector<std::string>{});
}

TEST_CASE("an alert of a clock that knew no time does not stay open from then on") {
  const test::ScratchFolder folder;
  {
    Time now = of_no_clock;
    JournalledShop shop(folder / "a.db", support::small_shop(), now);
    for (int minute = 0; minute < 60; minute += 5) {
      now += 5min;
      shop.hears(now, "bays/front", cold);
    }
    REQUIRE(has(shop.open_on_board(), "bay-cold/front 1970-"));
    shop.dates_anew(monday - boot_time());
  }
  // All that came within a moment by the right times: it was not cold for long.
  JournalledShop shop(folder / "a.db", support::small_shop(), monday + 1min);
  CHECK_FALSE(has(shop.open_on_board(), "bay-cold/front"));
  CHECK(shop.open_on_board() == shop.open_in_table());
  CHECK(shop.told_otherwise() == std::vector<std::string>{});
  Time now = monday + 1min;
  for (int minute = 0; minute < 30; minute += 5) {
    now += 5min;
    shop.hears(now, "bays/front", cold);
  }
  CHECK(has(shop.open_on_board(), "bay-cold/front 2026-03-02"));
}

TEST_CASE("an alert that no row tells of is open since the time that is right, and nobody is told again") {
  const test::ScratchFolder folder;
  const Time booted = monday - boot_time();
  JournalledShop shop(folder / "a.db", support::small_shop(), of_no_clock);
  const Millis first_row = shop.reader().stamp(1).value()->boot_time;
  shop.hears(of_no_clock + 5min, "bays/front", cold);
  shop.raises(AlertRule::disk_low, "disk", {"alerts.as-told", {say::text("text", "It is so.")}});
  shop.hears(of_no_clock + 10min, "bays/front", cold);
  const auto disk_low = [](const std::vector<AlertSummary>& alerts) {
    const auto found = std::ranges::find(alerts, AlertRule::disk_low, &AlertSummary::rule);
    return found == alerts.end() ? Time{} : found->raised;
  };
  REQUIRE(disk_low(shop.engine().board().alerts) == of_no_clock + 5min);
  shop.dates_anew(booted);
  // Row 1 was labelled of_no_clock, the alert five minutes later.
  const Time right = booted + first_row + 5min;
  CHECK(disk_low(shop.engine().board().alerts) == right);
  shop.settles();
  CHECK(disk_low(shop.reader().alerts_open_at(Time::max()).value()) == right);
  CHECK(shop.told_otherwise() == std::vector<std::string>{});
}

TEST_CASE("the table of readings follows at once") {
  const test::ScratchFolder folder;
  JournalledShop shop(folder / "a.db", support::small_shop(), of_no_clock);
  shop.hears(of_no_clock + 5min, "bays/front", cold);
  const Time booted = monday - boot_time();
  shop.dates_anew(booted);
  shop.settles();
  const auto read = shop.reader().readings("probe", Quantity::air_temperature, Time{}, Time::max()).value();
  REQUIRE(read.size() == 1);
  CHECK(read[0].reading.at == booted + shop.reader().stamp(read[0].seq).value()->boot_time);
}

TEST_CASE("while rows wait to be taken nobody is let in: what came is not written") {
  support::CoreShop shop(support::small_shop());
  shop.ticks(monday);
  shop.core().fall_behind();
  const auto rows = shop.rows().size();
  const auto refused = answer_to(shop, monday + 1min, [] {});
  REQUIRE_FALSE(refused.has_value());
  CHECK(refused.error().status == 503);
  CHECK(shop.rows().size() == rows + 1);  // the tick
}

TEST_CASE("an event that was on its way to the disk then is answered as what it is: kept") {
  support::CoreShop shop(support::small_shop());
  shop.ticks(monday);
  const auto kept = answer_to(shop, monday + 1min, [&] { shop.core().fall_behind(); });
  REQUIRE(kept.has_value());
  const auto row = std::ranges::find(shop.rows(), RowKind::event, &JournalRow::kind);
  REQUIRE(row != shop.rows().end());
  CHECK(kept->seq == row->seq);
  CHECK_FALSE(kept->repeated);
  CHECK(std::get<VehicleIn>(kept->event.detail).reference == "lot 5");
}

// Whether the settings are told as assumed for rows before them.
bool assumed_after(RowKind kind, const std::string& payload) {
  const test::ScratchFolder folder;
  auto writer = store::Writer::open({.path = folder / "a.db", .ballast_bytes = 0}, {}, {}).value();
  const auto reader = store::Reader::open(folder / "a.db").value();
  REQUIRE(writer->append({kind, {"bays/front", payload, monday, 0}, {}}, cap).has_value());
  REQUIRE(tell_settings(support::small_shop(), monday, *writer, reader).has_value());
  const auto told = reader.rows_of(RowKind::configured).value();
  writer->stop();
  REQUIRE(told.size() == 1);
  return wire::read_configured(told[0].message.payload).value().assumed;
}

TEST_CASE("a new box that begins by telling its time assumes nothing") {
  CHECK_FALSE(
      assumed_after(RowKind::redated, wire::to_json(Redated{"boot", monday, 0, 0, {}, ClockFault::behind})));
  CHECK(assumed_after(RowKind::message, cold));
}

}  // namespace
}  // namespace dryclock::app
