// A sensor in a box over salt, through a night: judged when it has settled, against the tables.
#include <doctest/doctest.h>

#include "nights/night.hpp"
#include "nights/replay.hpp"
#include "support/said.hpp"

using namespace dryclock;
using nights::fingerprint;
using nights::Night;
using std::chrono::hours;
using std::chrono::minutes;
using std::chrono::seconds;
using support::said;

namespace {

SensorView sensor(Night& night, const std::string& name) {
  for (auto& view : night.engine().sensors()) {
    if (view.name == name) {
      return view;
    }
  }
  FAIL("no such sensor");
  return {};
}

CheckProgress progress(Night& night) {
  const auto view = sensor(night, "probe");
  REQUIRE(view.checking);
  return *view.checking;
}

// Over NaCl at 20 C, the sensor coming up to what it shows there within two hours.
void lies_over(Night& night, models::Salt salt, double shown_pct) {
  night.does(SensorCheckStarted{"probe", salt});
  night.air_drifts("front", 20.0, shown_pct, hours{2});
}

}  // namespace

// OIML R 121:1996, Table 1: sodium chloride 75.5 (0.2) and magnesium chloride 33.1 (0.2) %RH at 20 C.
TEST_CASE("a sensor that shows too much is found out, and corrected by one point [OIML-R121: Table 1]") {
  Night night{"2026-03-02 12:00"};
  night.air_is("front", 20.0, 50.0);
  night.sends_every("front", minutes{1});
  night.passes_to("14:00");
  lies_over(night, models::Salt::sodium_chloride, 81.5);
  night.passes_to("15:00");
  CHECK(said(progress(night).what).find("judged after 6 h at the earliest") != std::string::npos);
  CHECK_FALSE(progress(night).result);
  night.passes_to("20:05");
  const auto result = progress(night).result.value();
  CHECK(result.expected_pct == doctest::Approx(75.5).epsilon(0.001));
  // k = 2: the table's 0.2, and 0.2 K of unevenness at 20 C, which is 1.2 % of the humidity, doubled.
  CHECK(result.expected_expanded_pct == doctest::Approx(1.9).epsilon(0.05));
  CHECK(result.shown_pct == doctest::Approx(81.5).epsilon(0.001));
  CHECK(result.temperature_c == doctest::Approx(20.0).epsilon(0.001));
  CHECK(result.readings == 60);
  CHECK(result.verdict == models::SensorVerdict::off);
  CHECK(result.slope.value() == 1.0);
  CHECK(result.offset.value() == doctest::Approx(-6.0).epsilon(0.01));
  // It reached its end at 16:00, and before that crept up by half a percent a minute at most.
  CHECK(*result.steady_since > night.at("2026-03-02 15:50"));
  CHECK(*result.steady_since < night.at("2026-03-02 16:05"));
  night.does(result);
  CHECK_FALSE(sensor(night, "probe").checking);
  CHECK(sensor(night, "probe").last_check->result.verdict == models::SensorVerdict::off);

  night.does(SensorCorrected{"probe", Quantity::relative_humidity, *result.slope, *result.offset});
  CHECK_FALSE(sensor(night, "probe").last_check->current);
  night.air_is("front", 20.0, 56.0);
  night.passes_to("22:00");
  CHECK(night.board().bays[0].rh_pct.value() == doctest::Approx(50.0).epsilon(0.005));
  CHECK(bool{nights::replay(night.setup(), night.rows(), night.now()).board == fingerprint(night.engine())});
}

TEST_CASE("two salts tell slope and offset [OIML-R121: Table 1]") {
  Night night{"2026-03-02 00:00"};
  night.air_is("front", 20.0, 50.0);
  night.sends_every("front", minutes{1});
  // deploy/sensors.md's example: shown 35.4 and 76.2.
  lies_over(night, models::Salt::magnesium_chloride, 35.4);
  night.passes_to("10:00");
  const auto first = progress(night).result.value();
  CHECK(first.verdict == models::SensorVerdict::doubtful);
  night.does(first);
  night.passes_to("11:00");
  lies_over(night, models::Salt::sodium_chloride, 76.2);
  night.passes_to("20:00");
  const auto second = progress(night).result.value();
  CHECK(second.verdict == models::SensorVerdict::agrees);
  CHECK(second.slope.value() == doctest::Approx((75.5 - 33.1) / (76.2 - 35.4)).epsilon(0.001));
  CHECK(second.offset.value() == doctest::Approx(-3.69).epsilon(0.01));
}

TEST_CASE("a sensor that agrees is left as it is; one that still moves is not judged") {
  Night night{"2026-03-02 00:00"};
  night.air_is("front", 20.0, 50.0);
  night.sends_every("front", minutes{1});
  lies_over(night, models::Salt::sodium_chloride, 74.5);
  night.passes_to("06:30");
  const auto result = progress(night).result.value();
  CHECK(result.verdict == models::SensorVerdict::agrees);
  CHECK_FALSE(result.slope);
  night.air_drifts("front", 20.0, 78.5, hours{4});  // 1 %RH an hour: a leak
  night.passes_to("08:00");
  CHECK_FALSE(progress(night).result);
  CHECK(said(progress(night).what).find("still moves by +1 %RH an hour") != std::string::npos);
  night.air_drifts("front", 24.0, 76.0, hours{4});
  night.passes_to("11:55");
  CHECK_FALSE(progress(night).result);
  night.falls_silent("front");
  night.passes_to("12:30");
  CHECK(said(progress(night).what).find("Nothing has come from it for a while") != std::string::npos);
}

TEST_CASE("a year after the last check it is due, as news") {
  Night night{"2026-03-02 00:00"};
  SensorChecked done;
  done.sensor = "probe";
  done.expected_pct = done.shown_pct = 75.5;
  night.does(done);
  night.passes_to("2027-03-01 23:00");
  CHECK(night.timeline("sensor-check-due").empty());
  night.passes_to("2027-03-02 00:10");
  CHECK(night.timeline("raised sensor-check-due/probe").size() == 1);
  CHECK(night.alerts().back().alert.level == AlertLevel::news);
  night.does(done);
  night.passes_to("2027-03-02 00:20");
  CHECK(night.timeline("cleared sensor-check-due/probe").size() == 1);
}

// What a check goes by, on both sides of itself; deploy/sensors.md gives the same figures. Common practice,
// no source.
TEST_SUITE_BEGIN("practice");

TEST_CASE("in its box a sensor is judged while it moves by less than 0.3 %RH and 0.3 K an hour") {
  const auto judged = [](double pct_per_hour, double k_per_hour) {
    Night night{"2026-03-02 00:00"};
    night.air_is("front", 20.0, 75.0);
    night.sends_every("front", minutes{1});
    night.does(SensorCheckStarted{"probe", models::Salt::sodium_chloride});
    night.air_drifts("front", 20.0 + 8.0 * k_per_hour, 75.0 + 8.0 * pct_per_hour, hours{8});
    night.passes_to("07:00");
    return progress(night).result.has_value();
  };
  CHECK(judged(0.27, 0.27));
  CHECK_FALSE(judged(0.33, 0.0));
  CHECK_FALSE(judged(0.0, 0.33));
}

TEST_CASE("in its box a sensor is judged by six readings an hour or more, one in ten seconds at most") {
  const auto after = [](Millis every) {
    Night night{"2026-03-02 00:00"};
    night.air_is("front", 20.0, 75.0);
    night.sends_every("front", every);
    night.does(SensorCheckStarted{"probe", models::Salt::sodium_chloride});
    night.passes_to("06:30");
    return progress(night);
  };
  CHECK(after(minutes{10}).result.has_value());
  CHECK(said(after(minutes{12}).what).find("5 readings in the last hour are too few: 6 are needed") !=
        std::string::npos);
  CHECK(after(seconds{5}).result.value().readings == 360);
}

TEST_CASE("in its box a sensor may be silent for a quarter of an hour") {
  Night night{"2026-03-02 00:00"};
  night.air_is("front", 20.0, 75.0);
  night.sends_every("front", minutes{1});
  night.does(SensorCheckStarted{"probe", models::Salt::sodium_chloride});
  night.passes_to("06:30");
  night.falls_silent("front");
  night.passes_to("06:44");
  CHECK(progress(night).result.has_value());
  night.passes_to("06:47");
  CHECK(said(progress(night).what).find("Nothing has come from it for a while") != std::string::npos);
}

// OIML R 121 Table 1 at 20 C: NaCl 75.5, KCl 85.1, K2SO4 97.6, MgCl2 33.1, K2CO3 43.2 %RH.
TEST_CASE("two salts make a straight line where they lie 20 %RH apart and were checked within a month") {
  // A sensor that shows 4 %RH too much, first over one salt and so many days later over the other.
  const auto slope = [](models::Salt first, double first_pct, int days, models::Salt second,
                        double second_pct) {
    Night night{"2026-03-02 00:00"};
    night.air_is("front", 20.0, 50.0);
    const auto check = [&](models::Salt salt, double shown_pct) {
      night.sends_every("front", minutes{5});
      night.does(SensorCheckStarted{"probe", salt});
      night.air_drifts("front", 20.0, shown_pct, hours{1});
      night.passes_to(night.now() + hours{7});
      auto result = progress(night).result.value();
      night.does(result);
      night.falls_silent("front");
      return result;
    };
    check(first, first_pct);
    night.passes_to(night.now() + hours{24 * days - 7});
    return check(second, second_pct).slope.value();
  };
  using models::Salt;
  // 22.1 apart at 20 C, and shown as 10 % more than that: a line. 9.6 apart: each by itself, as an offset.
  CHECK(slope(Salt::sodium_chloride, 79.5, 1, Salt::potassium_sulphate, 103.8) != 1.0);
  CHECK(slope(Salt::sodium_chloride, 79.5, 1, Salt::potassium_chloride, 90.1) == 1.0);
  CHECK(slope(Salt::magnesium_chloride, 37.1, 30, Salt::sodium_chloride, 83.5) != 1.0);
  CHECK(slope(Salt::magnesium_chloride, 37.1, 32, Salt::sodium_chloride, 83.5) == 1.0);
}

TEST_CASE("out of its box a sensor counts for the bay after half an hour") {
  Night night{"2026-03-02 14:00"};
  night.air_is("front", 20.0, 50.0);
  night.sends_every("front", minutes{1});
  night.does(SensorCheckStarted{"probe", models::Salt::sodium_chloride});
  night.passes_to("17:00");
  night.does(SensorCheckEnded{"probe"});
  const auto verdict = [&] { return night.board().bays[0].sensors.at(0).last_verdict; };
  night.passes_to("17:29");
  CHECK(verdict() == Verdict::being_checked);
  night.passes_to("17:32");
  CHECK(verdict() == Verdict::ok);
}

// As fractions a sensor sends a hundredth of the per cent, and its offset is one too: 0.815 over NaCl is 6
// %RH too much.
TEST_CASE("the correction of a sensor that sends fractions is a fraction") {
  Setup setup = support::small_shop();
  setup.mappings[1].unit = Unit::fraction;
  Night night{"2026-03-02 00:00", "UTC", setup};
  night.does(SensorCheckStarted{"probe", models::Salt::sodium_chloride});
  for (int i = 0; i < 80; ++i) {
    night.passes_to(night.now() + minutes{5});
    night.sends("front", 20.0, 0.815);
  }
  const auto result = progress(night).result.value();
  CHECK(result.shown_pct == doctest::Approx(81.5).epsilon(1e-4));
  CHECK(result.offset.value() == doctest::Approx(-0.06).epsilon(0.01).scale(0.0));
}

TEST_SUITE_END();
