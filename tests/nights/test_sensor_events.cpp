// Sensors that are set up, corrected, checked and retired while the shop works: each counts from its row on,
// and a restart reads every row as it was read then.
#include <doctest/doctest.h>

#include <algorithm>

#include "ingest/decode.hpp"
#include "nights/night.hpp"
#include "nights/replay.hpp"

using namespace dryclock;
using nights::fingerprint;
using nights::Night;
using nights::replay;
using std::chrono::hours;
using std::chrono::minutes;

namespace {

SensorAssigned bench_sensor(const std::string& bay) {
  SensorAssigned assigned;
  assigned.sensor = "bench";
  assigned.bay = bay;
  assigned.reads = {
      {"bays/side", "/t", Quantity::air_temperature, Unit::celsius, 1.0, 0.0, ""},
      {"bays/side", "/h", Quantity::relative_humidity, Unit::percent, 1.0, 0.0, ""},
  };
  return assigned;
}

const SensorSummary& reading_of(const Board& board, const std::string& sensor, Quantity quantity) {
  for (const auto& bay : board.bays) {
    for (const auto& one : bay.sensors) {
      if (one.sensor == sensor && one.quantity == quantity) {
        return one;
      }
    }
  }
  FAIL("no such sensor on the board");
  static const SensorSummary none;
  return none;
}
std::uint64_t count(const SensorSummary& sensor, Verdict verdict) {
  return sensor.counts[static_cast<std::size_t>(verdict)];
}
std::size_t sensors_in(const Board& board, std::size_t bay) {
  return board.bays[bay].sensors.size();
}

}  // namespace

TEST_CASE("a sensor set up in the middle of a night brings its bay to life, and a restart does the same") {
  Setup setup = support::small_shop();
  setup.mappings.resize(2);  // "back" has no sensor
  Night night{"2026-03-02 14:00", "UTC", setup};
  night.air_is("front", 20.0, 50.0);
  night.air_is("side", 17.0, 62.0);
  night.sends_every("front", minutes{1});
  night.passes_to("15:00");
  CHECK_FALSE(night.board().bays[1].air_c);
  night.does(bench_sensor("back"));
  CHECK(sensors_in(night.board(), 1) == 2);  // shown at once, not heard yet
  const auto van = night.arrives("grey-van", "back");
  night.sends_every("side", minutes{2});
  night.passes_to("15:30");
  night.lays(van, "bonnet");
  night.passes_to("19:00");
  CHECK(night.board().bays[1].air_c.value() == doctest::Approx(17.0).epsilon(0.01));
  CHECK(night.board().vehicles[0].pieces[0].standard_hours > 1.0);

  // It moves to the other bay, is corrected, and in the end is retired.
  night.does(bench_sensor("front"));
  CHECK(sensors_in(night.board(), 1) == 0);
  CHECK(sensors_in(night.board(), 0) == 4);
  night.passes_to("19:30");
  night.does(SensorCorrected{"bench", Quantity::relative_humidity, 1.0, -10.0});
  night.passes_to("20:00");
  CHECK(reading_of(night.board(), "bench", Quantity::relative_humidity).value.value() ==
        doctest::Approx(52.0).epsilon(0.01));
  CHECK(reading_of(night.board(), "bench", Quantity::air_temperature).value.value() ==
        doctest::Approx(17.0).epsilon(0.01));
  night.falls_silent("side");
  night.passes_to("20:30");
  CHECK(night.timeline("raised sensor-silent/bench").size() == 1);
  night.does(SensorRetired{"bench"});
  night.passes_to("21:00");
  CHECK(night.timeline("cleared sensor-silent/bench").size() == 1);
  CHECK(sensors_in(night.board(), 0) == 2);

  const auto again = replay(setup, night.rows(), night.now());
  CHECK(bool{again.board == fingerprint(night.engine())});
  for (const Millis cut : {Millis{777}, Millis{minutes{37}}}) {
    const auto parts = replay(setup, night.rows(), night.now(), cut);
    CHECK(bool{parts.board == again.board});
    CHECK(bool{parts.reported == again.reported});
  }
  // The rows before the correction were read without it: otherwise this would be another night.
  auto rows = night.rows();
  const auto corrected = std::ranges::find_if(rows, [](const JournalRow& row) {
    return row.message.payload.find("sensor-corrected") != std::string::npos;
  });
  REQUIRE(corrected != rows.end());
  rows.erase(corrected);
  CHECK_FALSE(bool{replay(setup, rows, night.now()).reported == again.reported});
}

TEST_CASE("a set-up that is taken back is gone from then on, and what it had told stays") {
  Night night{"2026-03-02 14:00"};
  night.air_is("side", 17.0, 62.0);
  night.sends_every("side", minutes{2});
  const Seq assigned = night.does(bench_sensor("front"));
  night.passes_to("15:00");
  CHECK(count(reading_of(night.board(), "bench", Quantity::air_temperature), Verdict::ok) == 30);
  night.does(SensorCorrected{"bench", Quantity::air_temperature, 1.0, 1.0});
  night.falls_silent("side");
  night.does(Superseded{assigned});
  CHECK(sensors_in(night.board(), 0) == 2);
  CHECK(night.engine().mappings() == night.setup().mappings);
  night.passes_to("15:10");
  CHECK(bool{replay(night.setup(), night.rows(), night.now()).board == fingerprint(night.engine())});
}

TEST_CASE("what a sensor says in its box over a salt is kept, and is not the bay's") {
  Night night{"2026-03-02 14:00"};
  night.air_is("front", 20.0, 50.0);
  night.sends_every("front", minutes{1});
  night.passes_to("15:00");
  const auto before = count(reading_of(night.board(), "probe", Quantity::relative_humidity), Verdict::ok);
  night.does(SensorCheckStarted{"probe", models::Salt::sodium_chloride});
  night.air_is("front", 21.0, 76.0);
  night.passes_to("17:00");
  const auto in_box = reading_of(night.board(), "probe", Quantity::relative_humidity);
  CHECK(in_box.last_verdict == Verdict::being_checked);
  CHECK(count(in_box, Verdict::being_checked) == 120);
  CHECK(count(in_box, Verdict::ok) == before);
  CHECK(in_box.value.value() == doctest::Approx(76.0).epsilon(0.01));
  CHECK_FALSE(night.board().bays[0].rh_pct);  // nothing is known of the bay
  for (const auto& point : night.engine().air("front", night.at("14:00") - hours{24}, night.now())) {
    CHECK(point.rh_pct < 51.0);
  }

  SUBCASE("the check is done: half an hour later it is the bay's sensor again") {
    SensorChecked done;
    done.sensor = "probe";
    done.expected_pct = 75.5;
    done.shown_pct = 76.0;
    night.does(done);
    night.air_is("front", 20.0, 50.0);
    night.passes_to("17:29");
    CHECK(reading_of(night.board(), "probe", Quantity::relative_humidity).last_verdict ==
          Verdict::being_checked);
    night.passes_to("17:40");
    CHECK(reading_of(night.board(), "probe", Quantity::relative_humidity).last_verdict == Verdict::ok);
    CHECK(night.board().bays[0].rh_pct.value() == doctest::Approx(50.0).epsilon(0.01));
  }
  SUBCASE("it was given up") {
    night.does(SensorCheckEnded{"probe"});
    night.passes_to("17:40");
    CHECK(reading_of(night.board(), "probe", Quantity::relative_humidity).last_verdict == Verdict::ok);
  }
  SUBCASE("it was forgotten: after a day the check is over by itself") {
    night.passes_to("2026-03-03 14:59");
    CHECK(reading_of(night.board(), "probe", Quantity::relative_humidity).last_verdict ==
          Verdict::being_checked);
    night.passes_to("2026-03-03 15:10");
    CHECK(reading_of(night.board(), "probe", Quantity::relative_humidity).last_verdict == Verdict::ok);
  }
  CHECK(bool{replay(night.setup(), night.rows(), night.now()).board == fingerprint(night.engine())});
}

TEST_CASE("what cannot be is refused, and why") {
  Night night{"2026-03-02 14:00"};
  auto of_file = bench_sensor("front");
  of_file.sensor = "probe";
  CHECK(night.objection(of_file).find("stands in the configuration file, which wins") != std::string::npos);
  CHECK(night.objection(SensorRetired{"probe"}).find("configuration file") != std::string::npos);
  CHECK(night.objection(SensorRetired{"bench"}).find("no sensor \"bench\"; known: probe, gateway") !=
        std::string::npos);
  CHECK(night.objection(bench_sensor("attic")).find("no bay \"attic\"; known: front, back") !=
        std::string::npos);
  auto odd = bench_sensor("front");
  odd.reads[0].topic = "a/#/b";
  CHECK(night.objection(odd).find("/reads/0/topic") != std::string::npos);
  odd = bench_sensor("front");
  odd.reads[1].pointer = "h";
  CHECK(night.objection(odd).find("/reads/1/pointer") != std::string::npos);
  odd = bench_sensor("front");
  odd.reads[1].unit = Unit::kelvin;
  CHECK(night.objection(odd).find("\"K\" is no unit of relative humidity") != std::string::npos);
  odd = bench_sensor("front");
  odd.reads[1].quantity = Quantity::air_temperature;
  odd.reads[1].unit = Unit::celsius;
  CHECK(night.objection(odd).find("reads air temperature already") != std::string::npos);
  odd = bench_sensor("front");
  odd.sensor = "a/b";
  CHECK(night.objection(odd).find("/sensor") != std::string::npos);
  CHECK(night.objection(SensorCheckEnded{"probe"}).find("not being checked") != std::string::npos);
  night.does(SensorCheckStarted{"probe", models::Salt::sodium_chloride});
  CHECK(night.objection(SensorCheckStarted{"probe", models::Salt::magnesium_chloride})
            .find("being checked already") != std::string::npos);
  CHECK(night.objection(SensorCorrected{"probe", Quantity::panel_temperature, 1.0, 1.0})
            .find("reads no panel temperature") != std::string::npos);
  CHECK(night.objection(SensorCorrected{"probe", Quantity::air_temperature, 0.0, 1.0}).find("/slope") !=
        std::string::npos);
  CHECK(night.objection(CouponLaid{"nobody's", "", "front", 0.09, 0.9}).find("/film") != std::string::npos);
  CHECK(night.objection(CouponLaid{"open", "", "attic", 0.09, 0.9}).find("/bay") != std::string::npos);
  CHECK(night.objection(CouponWeighed{1, 400.0}).find("no coupon 1") != std::string::npos);
}
