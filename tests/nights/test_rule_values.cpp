// Where the rules' fixed values lie: each is played on both sides of itself. They are common practice, no
// source, or assumptions, unless a test names more.
#include <doctest/doctest.h>

#include <algorithm>

#include "nights/night.hpp"
#include "two_in_front.hpp"

using namespace dryclock;
using nights::Night;
using nights::two_in_front;
using std::chrono::hours;
using std::chrono::minutes;
using std::chrono::seconds;
using Lines = std::vector<std::string>;

namespace {

bool is_open(Night& night, AlertRule rule) {
  const auto alerts = night.board().alerts;
  return std::ranges::any_of(alerts, [&](const auto& alert) { return alert.rule == rule; });
}

}  // namespace

TEST_SUITE_BEGIN("practice");

// The shop's limits are 15 C and 70 %RH; a heater's thermostat swings by half a kelvin, a wet day by a per
// cent or two.
TEST_CASE("a cold bay is over one kelvin above its limit, a damp one three per cent below") {
  Night night{"2026-03-02 08:00"};
  night.air_is("front", 14.0, 72.0);
  night.sends_every("front", minutes{1});
  night.passes_to("09:00");
  night.air_is("front", 15.9, 67.2);
  night.passes_to("10:00");
  CHECK(is_open(night, AlertRule::bay_cold));
  CHECK(is_open(night, AlertRule::bay_damp));
  night.air_is("front", 16.1, 66.8);
  night.passes_to("10:10");
  CHECK_FALSE(is_open(night, AlertRule::bay_cold));
  CHECK_FALSE(is_open(night, AlertRule::bay_damp));
}

TEST_CASE("a quarter of an hour late is no slip, a minute more is") {
  for (const int late : {14, 16}) {
    Night night{"2026-03-02 14:00"};
    night.air_is("front", 21.0, 50.0);
    night.sends_every("front", minutes{1});
    night.leaves_outlooks();
    const auto van = night.arrives("grey-van", "front", {}, "2026-03-03 12:00");
    night.lays(van, "bonnet");
    night.passes_to("14:30");
    OutlookAnswer answer;
    answer.vehicle = van;
    const auto tasks = night.engine().outlook_tasks();
    REQUIRE(tasks.size() == 1);
    answer.revision = tasks[0].revision;
    answer.at = night.now();
    answer.hand_over_probability = 0.5;
    answer.release_announces = night.at("2026-03-03 12:00") + minutes{late};
    CHECK_FALSE(night.engine().apply(answer).has_value());  // it announces nothing
    night.passes_to("15:00");
    CHECK(night.timeline("raised estimate-slipped").size() == (late > 15 ? 1 : 0));
  }
}

// Of spans beyond a day the minutes are not said.
TEST_CASE(
    "a vehicle that is late is restated where the words change: by the minute, beyond a day by the hour") {
  Night night{"2026-03-02 14:00"};
  night.air_is("front", 21.0, 50.0);
  night.sends_every("front", minutes{1});
  night.leaves_outlooks();
  const auto van = night.arrives("grey-van", "front", {}, "2026-03-03 12:00");
  night.lays(van, "bonnet");
  night.passes_to("14:30");
  const auto restated_by = [&](Millis late) {
    const auto before = night.alerts().size();
    const auto tasks = night.engine().outlook_tasks();
    REQUIRE(tasks.size() == 1);
    OutlookAnswer answer;
    answer.vehicle = van;
    answer.revision = tasks[0].revision;
    answer.at = night.now();
    answer.hand_over_probability = 0.5;
    answer.release_announces = night.at("2026-03-03 12:00") + late;
    CHECK_FALSE(night.engine().apply(answer).has_value());  // it announces nothing
    night.passes_to(night.now() + minutes{20});
    return std::count_if(night.alerts().begin() + static_cast<std::ptrdiff_t>(before), night.alerts().end(),
                         [](const AlertRow& row) {
                           return row.step == AlertStep::restated &&
                                  row.alert.rule == AlertRule::estimate_slipped;
                         });
  };
  CHECK(restated_by(hours{26} + minutes{5}) == 0);
  REQUIRE(is_open(night, AlertRule::estimate_slipped));
  CHECK(restated_by(hours{26} + minutes{55}) == 0);
  CHECK(restated_by(hours{27} + minutes{5}) == 1);
  CHECK(restated_by(hours{27} + minutes{15}) == 0);
  CHECK(restated_by(hours{23} + minutes{10}) == 1);
  CHECK(restated_by(hours{23} + minutes{20}) == 1);
}

TEST_CASE("what is left of the time indoors is told by the hour while it is beyond a day") {
  Setup setup = support::small_shop();
  setup.least_indoor = hours{120};
  Night night{"2026-03-02 08:00", "UTC", setup};
  night.air_is("front", 25.0, 35.0);
  night.sends_every("front", minutes{1});
  const auto van = night.arrives("grey-van", "front");
  const auto lamp = night.lays(van, "lamp");
  night.passes_to("2026-03-04 08:00");
  night.does(Inspected{lamp, models::ZoneKind::field, models::Finding::clear});
  const auto left_at = [&](std::string_view clock) {
    night.passes_to(clock);
    const auto what = night.board().vehicles[0].held_by;
    REQUIRE(what.key == "limits.indoors");
    return what.values.at(0).number;
  };
  CHECK(left_at("2026-03-05 08:05") == 47.0 * 3600);
  CHECK(left_at("2026-03-05 08:25") == 47.0 * 3600);
  CHECK(left_at("2026-03-05 09:05") == 46.0 * 3600);
}

// 2 %RH each is what makers state of both, 3 %RH what two places in one bay differ by; 0.5 K each, and 1 K.
TEST_CASE("two sensors disagree beyond 7 %RH or 2 K, and agree again within seven tenths of that") {
  Night night{"2026-03-02 08:00", "UTC", two_in_front()};
  night.air_is("front", 20.0, 50.0);
  night.air_is("side", 21.9, 56.9);
  night.sends_every("front", minutes{1});
  night.sends_every("side", minutes{1});
  night.passes_to("10:00");
  CHECK(night.timeline("sensors-disagree").empty());
  night.air_is("side", 22.1, 57.1);
  night.passes_to("11:10");
  CHECK(night.timeline("raised sensors-disagree/probe+side:relative-humidity").size() == 1);
  CHECK(night.timeline("raised sensors-disagree/probe+side:air-temperature").size() == 1);
  night.air_is("side", 21.5, 55.0);
  night.passes_to("12:00");
  CHECK(night.timeline("cleared sensors-disagree").empty());
  night.air_is("side", 21.3, 54.8);
  night.passes_to("12:10");
  CHECK(night.timeline("cleared sensors-disagree").size() == 2);
}

TEST_CASE("six turns within two hours are a swing, and it is over when two are left") {
  Night night{"2026-03-02 08:00", "UTC", two_in_front()};
  night.air_is("front", 20.0, 50.0);
  night.air_is("side", 20.0, 50.0);
  night.sends_every("front", minutes{1});
  night.sends_every("side", minutes{1});
  night.passes_to("09:00");
  // Up at 09:00, back at 09:10 and so on: 4 K in eight minutes, so that a turn counts in the fourth minute or
  // fifth.
  for (int leg = 0; leg < 7; ++leg) {
    CHECK(night.timeline("raised sensor-swings/side").empty());  // up, and five turns at most
    night.air_drifts("side", leg % 2 == 0 ? 24.0 : 20.0, 50.0, minutes{8});
    night.passes_to(night.now() + minutes{10});
  }
  CHECK(night.timeline("raised sensor-swings/side").size() == 1);
  // The third turn, at 09:34, is forgotten at 11:34 and leaves three; the fourth, ten minutes later, leaves
  // two.
  night.passes_to("11:40");
  CHECK(night.timeline("cleared sensor-swings/side").empty());
  night.passes_to("11:50");
  CHECK(night.timeline("cleared sensor-swings/side").size() == 1);
}

// 300 g/m2 on a piece that nobody measured, of a tenth of it alcohol per two: 300 * 1.5 * 0.2 = 90 g, about a
// bonnet's. Ideal gas, where nothing measures the air at 21 C: 90/60.1 mol * 8.314 * 294.15 K/(30 m3 * 101325
// Pa) = 1205 ppm.
TEST_CASE("alcohol on a piece of unknown size, in air that nothing measures") {
  Setup setup = support::small_shop();
  setup.bays[0].volume_m3 = 30.0;
  setup.mappings.clear();
  Night night{"2026-03-02 08:00", "UTC", setup};
  const auto van = night.arrives("grey-van", "front");
  night.passes_to("08:10");
  Lay lay;
  lay.vehicle = van;
  lay.panel = "tow bar cover";
  lay.film = "baseline";
  lay.solution = "tack";
  lay.zones = {models::ZoneKind::field};
  night.does(lay);
  night.passes_to("08:20");
  REQUIRE(is_open(night, AlertRule::solvent));
  const auto number = [&](std::string_view name) {
    const auto& values = night.alerts().back().alert.what.values;
    return std::ranges::find(values, name, &Value::name)->number.value_or(0.0);
  };
  CHECK(number("alcohol") == 90.0);
  CHECK(number("peak") == doctest::Approx(1205.0).epsilon(0.002));
}

// Ten standard hours to go. At 21 C and 50 %RH the pace is 1 by definition: they take ten hours.
TEST_CASE("a pace is good enough again when it would leave a tenth of the time to spare") {
  Night night{"2026-03-02 14:00"};
  night.air_is("front", 21.0, 50.0);
  night.sends_every("front", minutes{1});
  night.leaves_outlooks();
  const auto van = night.arrives("grey-van", "front");
  const auto bonnet = night.lays(van, "bonnet");
  night.passes_to("16:00");
  const auto is_low = [&](double left_h) {
    night.does(HandOverAgreed{van, night.now() + Millis{static_cast<std::int64_t>(left_h * 3'600'000.0)}});
    OutlookAnswer answer;
    answer.vehicle = van;
    answer.revision = night.rows().back().seq;
    answer.at = night.now();
    OutlookAnswer::Item item;
    item.id = bonnet;
    item.reach.back().hours_to_go = 10.0;
    answer.pieces = {item};
    CHECK_FALSE(night.engine().apply(answer));
    night.passes_to(night.now() + minutes{12});
    return is_open(night, AlertRule::pace_low);
  };
  CHECK_FALSE(is_low(10.6));
  CHECK(is_low(10.0));
  CHECK(is_low(11.0));  // ten hours are more than nine tenths of what is left of it
  CHECK_FALSE(is_low(11.6));
}

TEST_CASE("a stepped clock is news for a day") {
  Night night{"2026-03-02 18:00"};
  night.air_is("front", 21.0, 50.0);
  night.sends_every("front", minutes{1});
  night.passes_to("20:00:10");
  night.clock_steps_to("20:05:00", "+290 s");
  night.passes_to("2026-03-03 20:00");
  CHECK(is_open(night, AlertRule::clock_stepped));
  night.passes_to("2026-03-03 20:10");
  CHECK_FALSE(is_open(night, AlertRule::clock_stepped));
}

TEST_CASE("a vehicle that was handed over stays on the board for a day") {
  Night night{"2026-03-02 08:00"};
  night.air_is("front", 21.0, 50.0);
  night.sends_every("front", minutes{1});
  const auto van = night.arrives("grey-van", "front");
  night.passes_to("09:00");
  night.does(Released{van, "it goes to the painter first"});
  night.passes_to("2026-03-03 08:50");
  CHECK(night.board().vehicles.size() == 1);
  night.passes_to("2026-03-03 09:10");
  CHECK(night.board().vehicles.empty());
}

TEST_CASE("a bay's air is kept for eight days") {
  Night night{"2026-03-02 00:00"};
  night.air_is("front", 21.0, 50.0);
  night.air_drifts("front", 25.0, 40.0, hours{300});
  night.sends_every("front", minutes{10});
  night.passes_to("2026-03-13 00:00");
  const auto air = night.engine().air("front", night.at("2026-03-02 00:00") - hours{24 * 30}, night.now());
  REQUIRE_FALSE(air.empty());
  CHECK(night.now() - air.front().at > hours{8 * 24 - 1});
  CHECK(night.now() - air.front().at < hours{8 * 24 + 1});
}

// Nine tenths, as the shop's own word "ready" is meant: one time in ten it is not.
TEST_CASE("a milestone of a piece that was looked at is announced at nine cases in ten") {
  Night night{"2026-03-02 08:00"};
  night.air_is("front", 21.0, 50.0);
  night.sends_every("front", minutes{1});
  const auto van = night.arrives("grey-van", "front");
  const auto bonnet = night.lays(van, "bonnet");
  night.passes_to("08:30");
  night.does(Inspected{bonnet, models::ZoneKind::field, models::Finding::wet});
  double before = 0.0;
  while (night.milestones().empty() && night.now() < night.at("2026-03-05 08:00")) {
    for (const auto& milestone : night.piece(bonnet).milestones) {
      before = std::max(before, milestone.probability);
    }
    night.passes_to(night.now() + minutes{10});
  }
  REQUIRE(night.milestones().size() >= 1);
  CHECK(night.milestones()[0].word == Word::ready);
  CHECK(before < 0.90);
  CHECK(night.milestones()[0].probability >= 0.90);
}

TEST_CASE("a piece's history has a point every ten minutes, unless asked for others") {
  Night night{"2026-03-02 08:00"};
  night.air_is("front", 21.0, 50.0);
  night.sends_every("front", minutes{1});
  const auto van = night.arrives("grey-van", "front");
  night.passes_to("09:00");
  const auto bonnet = night.lays(van, "bonnet");
  night.passes_to("11:00");
  const auto history = night.engine().history(bonnet).value();
  REQUIRE(history.size() > 4);
  CHECK(history[3].at - history[2].at == minutes{10});
}

// Rows of a minute may reach the engine so much later; a sensor that was never heard of is silent after a
// quarter of an hour.
TEST_CASE("a minute is over five seconds after its end") {
  engine::Engine engine{support::small_shop()};
  const Time start = parse_rfc3339("2026-03-01T20:00:00Z").value();
  Time now = start;
  engine.advance(now);
  while (engine.advance(now += seconds{1}).alerts.empty()) {
    REQUIRE(now < start + hours{1});
  }
  CHECK((now - start) % minutes{1} == seconds{5});
}

// Air of 21 C and 50 %RH has its dew point at 10.2 C; guides that cite ISO 8502-4 ask for 3 K more of a
// surface.
TEST_CASE("panels 2.8 K above the dew point are told, panels 3.3 K above it are not") {
  Night night{"2026-03-02 08:00"};
  night.air_is("front", 21.0, 50.0);
  night.sends_every("front", minutes{1});
  night.passes_to("09:00");
  const auto colder = std::to_string(night.arrives("blue-car", "front", 13.0));
  const auto warmer = std::to_string(night.arrives("red-car", "front", 13.5));
  night.passes_to("10:00");
  CHECK(night.timeline("raised dew/" + colder).size() == 1);
  CHECK(night.timeline("raised dew/" + warmer).empty());
}

TEST_CASE("half an hour of silence is bridged by a straight line, more is a gap") {
  for (const int silent : {29, 33}) {
    Night night{"2026-03-02 08:00"};
    night.air_is("front", 21.0, 50.0);
    night.sends_every("front", minutes{1});
    night.passes_to("10:00:30");
    night.falls_silent("front");
    night.passes_to(night.now() + minutes{silent});
    night.sends_every("front", minutes{1});
    night.passes_to("11:00");
    CHECK(night.gaps().size() == (silent > 30 ? 1 : 0));
  }
}

TEST_SUITE_END();
