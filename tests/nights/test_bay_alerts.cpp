// Heater, damp, dew: who is told, and exactly when.
#include <doctest/doctest.h>

#include <cmath>

#include "nights/night.hpp"
#include "support/said.hpp"

using namespace dryclock;
using nights::Night;
using std::chrono::hours;
using std::chrono::minutes;
using support::said;
using Lines = std::vector<std::string>;

TEST_CASE("the heater fails at 02:40: told when the bay has been too cold for exactly the dwell") {
  Night night{"2026-03-02 18:00"};
  night.air_is("front", 21.0, 50.0);
  night.sends_every("front", minutes{1});
  const auto van = night.arrives("grey-van", "front");
  night.lays(van, "bonnet");
  night.passes_to("02:40");
  night.air_is("front", 14.0, 60.0);
  night.passes_to("06:00");
  night.air_is("front", 15.5, 55.0);  // within the hysteresis of 1 K: still open
  night.passes_to("06:30");
  night.air_is("front", 16.5, 55.0);
  night.passes_to("07:00");
  // 7 K is further than air goes in a minute (5 K), but not in two: 02:41 is the first reading that counts.
  CHECK(night.timeline("bay-cold") ==
        Lines{"Tue 02:51 raised bay-cold/front", "Tue 06:30 cleared bay-cold/front"});
  for (const auto& row : night.alerts()) {
    if (row.alert.rule == AlertRule::bay_cold) {
      CHECK(row.alert.level == AlertLevel::urgent);  // a vehicle is drying in there
      CHECK_FALSE(said(row.alert.advice).empty());
    }
  }
}

TEST_CASE("a cold spell shorter than the dwell wakes nobody") {
  Night night{"2026-03-02 18:00"};
  night.air_is("front", 16.0, 50.0);
  night.sends_every("front", minutes{1});
  night.passes_to("20:00");
  night.air_is("front", 14.0, 50.0);
  night.passes_to("20:10");
  night.air_is("front", 16.0, 50.0);
  night.passes_to("21:00");
  CHECK(night.timeline("bay-cold").empty());
  night.air_is("front", 14.0, 50.0);
  night.passes_to("21:11");
  CHECK(night.timeline("bay-cold").size() == 1);
  CHECK(night.alerts().back().alert.raised == night.at("2026-03-02 21:10"));
  CHECK(night.alerts().back().alert.level == AlertLevel::warning);  // the bay is empty
}

TEST_CASE("a damp night is told, and over 3 % below the limit") {
  Night night{"2026-03-02 18:00"};
  night.air_is("front", 18.0, 60.0);
  night.sends_every("front", minutes{1});
  night.passes_to("19:00");
  night.air_is("front", 18.0, 75.0);
  night.passes_to("20:00");
  night.air_is("front", 18.0, 68.0);
  night.passes_to("21:00");
  CHECK(night.timeline("bay-damp") == Lines{"Mon 19:10 raised bay-damp/front"});
  night.air_is("front", 18.0, 66.0);
  night.passes_to("21:05");
  CHECK(night.timeline("bay-damp").back() == "Mon 21:00 cleared bay-damp/front");
}

// A bare steel sheet that comes in at 2 C, in air of 21 C and 50 % (dew point 10.2 C): T = 21 - 19
// exp(-t/tau), tau = 2767/8 = 346 s. It passes 13.7 C, the dew point with its margin and hysteresis, after
// 346 ln(19/7.31) = 330 s: known at the sixth minute.
TEST_CASE("a cold car brought into a warm bay: dew is told at once, until its panels have warmed") {
  Night night{"2026-03-02 08:00"};
  night.air_is("front", 21.0, 50.0);
  night.sends_every("front", minutes{1});
  night.passes_to("09:00");
  const auto cold = std::to_string(night.arrives("blue-car", "front", 2.0));
  const auto warm = std::to_string(night.arrives("red-car", "front"));
  night.passes_to("12:00");
  CHECK(night.timeline("dew/" + cold) ==
        Lines{"Mon 09:00 raised dew/" + cold, "Mon 09:06 cleared dew/" + cold});
  CHECK(night.timeline("dew/" + warm).empty());
}

TEST_CASE("an estimate that the present pace cannot keep is told, and over when the bay is warm again") {
  Night night{"2026-03-02 14:00"};
  night.air_is("front", 21.0, 50.0);
  night.sends_every("front", minutes{1});
  night.looks_ahead();
  const auto van = night.arrives("grey-van", "front", {}, "2026-03-04 14:00");
  night.lays(van, "bonnet");
  night.passes_to("16:00");
  CHECK(night.timeline("pace-low").empty());
  night.air_is("front", 16.0, 95.0);
  night.passes_to("18:00");
  REQUIRE(night.timeline("raised pace-low").size() == 1);
  night.air_is("front", 21.0, 50.0);
  night.passes_to("19:00");
  CHECK(night.timeline("cleared pace-low").size() == 1);
}

namespace {

// Cold, damp and a cold panel at 18:30: three alerts are open.
VehicleId trouble(Night& night) {
  night.air_is("front", 12.0, 80.0);
  night.sends_every("front", minutes{1});
  const auto van = night.arrives("grey-van", "front", 2.0);
  night.passes_to("18:30");
  REQUIRE(night.timeline("raised bay-cold/front").size() == 1);
  REQUIRE(night.timeline("raised bay-damp/front").size() == 1);
  REQUIRE(night.timeline("raised dew/").size() == 1);
  return van;
}

Setup with_bays(std::vector<BaySetup> bays) {
  auto setup = support::small_shop();
  setup.bays = std::move(bays);
  return setup;
}

}  // namespace

TEST_CASE("a limit that is taken out of the settings closes its alert, and that alone") {
  Night night{"2026-03-02 18:00"};
  trouble(night);
  night.settings_are(with_bays({{"front", {}, 70.0, {}}, {"back", 15.0, 70.0, {}}}));
  night.passes_to("18:35");
  CHECK(night.timeline("cleared") == Lines{"Mon 18:30 cleared bay-cold/front"});
  night.settings_are(with_bays({{"front", {}, {}, {}}, {"back", 15.0, 70.0, {}}}));
  night.passes_to("18:40");
  CHECK(night.timeline("cleared bay-damp") == Lines{"Mon 18:35 cleared bay-damp/front"});
  // Put in again it waits its dwell again.
  night.settings_are(support::small_shop());
  night.passes_to("18:49");
  CHECK(night.timeline("raised bay-cold").size() == 1);
  night.passes_to("18:55");
  CHECK(night.timeline("raised bay-cold").size() == 2);
}

TEST_CASE("a bay that is gone, or that nothing measures any more, has no alerts of its air") {
  Setup setup;
  SUBCASE("gone, and its sensor with it") {
    setup = with_bays({{"back", 15.0, 70.0, {}}});
  }
  SUBCASE("its sensor is gone") {
    setup = support::small_shop();
  }
  std::erase_if(setup.mappings, [](const auto& mapping) { return mapping.bay == "front"; });
  Night night{"2026-03-02 18:00"};
  const auto van = trouble(night);
  night.falls_silent("front");
  night.passes_to("20:00");
  CHECK(night.timeline("cleared").empty());  // silence alone clears nothing
  night.settings_are(setup);
  night.passes_to("20:05");
  CHECK(night.timeline("cleared bay-cold/front").size() == 1);
  CHECK(night.timeline("cleared bay-damp/front").size() == 1);
  CHECK(night.timeline("cleared dew/" + std::to_string(van)).size() == 1);
  REQUIRE(night.board().alerts.size() == 1);
  CHECK(night.board().alerts[0].id == "sensor-silent/gateway");  // the other bay's was never heard
}

TEST_CASE("an alert of a bay that no settings in the journal know is closed") {
  Night night{"2026-03-02 18:00"};
  AlertSummary cold;
  cold.id = "bay-cold/old";
  cold.rule = AlertRule::bay_cold;
  cold.subject = "old";
  cold.raised = night.now();
  night.engine().seed_alerts({cold});
  night.passes_to("18:02");
  CHECK(night.timeline("cleared").size() == 1);
}

TEST_CASE(
    "three days of a bay's air are told at full hours: bands, and the chances that something is to be "
    "minded") {
  Night night{"2026-03-02 18:00"};
  CHECK(night.engine().air_ahead("front").empty());  // nothing was measured yet
  CHECK(night.engine().air_ahead("nowhere").empty());
  night.air_is("front", 17.0, 50.0);
  night.sends_every("front", minutes{1});
  night.passes_to("20:30");
  const auto ahead = night.engine().air_ahead("front");
  REQUIRE(ahead.size() == 72);
  CHECK(ahead.front().at == night.at("21:00"));
  for (std::size_t i = 0; i < ahead.size(); ++i) {
    CHECK(ahead[i].at == night.at("21:00") + hours{i});
    CHECK(ahead[i].air_c.likely == doctest::Approx(17.0).epsilon(0.01));
    CHECK(ahead[i].air_c.low < ahead[i].air_c.likely);
    CHECK(ahead[i].air_c.high > ahead[i].air_c.likely);
    CHECK(ahead[i].rh_pct.high <= 100.0);
    CHECK(ahead[i].pace.low >= 0.0);
  }
  // Its limit is 15 C: a chance of so many standard deviations, which grows as less is known.
  const auto& first = ahead.front();
  const double spread = (first.air_c.high - first.air_c.low) / (2.0 * 1.2815515655);
  REQUIRE(first.cold.has_value());
  CHECK(*first.cold == doctest::Approx(0.5 * std::erfc(2.0 / spread / std::sqrt(2.0))).epsilon(0.02));
  CHECK(*ahead[23].cold > *first.cold);
}
