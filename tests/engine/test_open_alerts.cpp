#include "engine/open_alerts.hpp"

#include <doctest/doctest.h>

#include "engine/told.hpp"

using namespace dryclock;
using engine::Condition;
using engine::OpenAlerts;
using std::chrono::minutes;
using test::t0;

namespace {

struct AlertBench {
  OpenAlerts alerts;
  OpenAlerts::Rows rows;
  int minute = 0;
  // Asks once a minute for so long, raising when told to; gives the minute of the last raising.
  std::optional<int> follow(Condition condition, int for_minutes) {
    std::optional<int> raised;
    for (int i = 0; i < for_minutes; ++i, ++minute) {
      if (alerts.follow(AlertRule::bay_cold, "front", condition, t0 + minutes{minute}, minutes{10}, rows)) {
        alerts.raise(AlertRule::bay_cold, "front", {"alerts.bay-cold"}, {"advice.bay-cold"},
                     t0 + minutes{minute}, rows);
        raised = minute;
      }
    }
    return raised;
  }
};

}  // namespace

TEST_CASE("a condition is raised when it has held for the dwell, and once") {
  AlertBench b;
  CHECK(b.follow(Condition::holds, 30) == 10);
  REQUIRE(b.rows.size() == 1);
  CHECK(b.rows[0].step == AlertStep::raised);
  CHECK(b.rows[0].alert.id == "bay-cold/front");
  CHECK(b.rows[0].alert.raised == t0 + minutes{10});
}

TEST_CASE("an interruption, or not knowing, starts the dwell afresh") {
  for (const auto between : {Condition::over, Condition::between, Condition::unknown}) {
    AlertBench b;
    CHECK_FALSE(b.follow(Condition::holds, 10).has_value());  // minutes 0 to 9
    CHECK_FALSE(b.follow(between, 1).has_value());
    CHECK(b.follow(Condition::holds, 30) == 21);
  }
}

TEST_CASE("an open alert stays within the hysteresis and while nothing is known") {
  AlertBench b;
  b.follow(Condition::holds, 11);
  b.follow(Condition::between, 5);
  b.follow(Condition::unknown, 5);
  CHECK(b.alerts.is_open(AlertRule::bay_cold, "front"));
  b.follow(Condition::over, 1);
  CHECK_FALSE(b.alerts.is_open(AlertRule::bay_cold, "front"));
  REQUIRE(b.rows.size() == 2);
  CHECK(b.rows[1].step == AlertStep::cleared);
  CHECK(b.rows[1].alert.cleared == t0 + minutes{21});
}

TEST_CASE("acknowledging marks it, once") {
  AlertBench b;
  b.follow(Condition::holds, 11);
  b.alerts.acknowledge("bay-cold/front", t0 + minutes{12}, b.rows);
  b.alerts.acknowledge("bay-cold/front", t0 + minutes{13}, b.rows);
  REQUIRE(b.rows.size() == 2);
  CHECK(b.rows[1].step == AlertStep::acknowledged);
  CHECK(b.alerts.open()[0].acknowledged == t0 + minutes{12});
}

TEST_CASE("seeded alerts are open, and are not raised again") {
  AlertBench b;
  AlertSummary seeded;
  seeded.id = "bay-cold/front";
  seeded.rule = AlertRule::bay_cold;
  seeded.subject = "front";
  seeded.raised = t0 - minutes{60};
  b.alerts.seed({seeded});
  CHECK_FALSE(b.follow(Condition::holds, 30).has_value());
  b.follow(Condition::over, 1);
  REQUIRE(b.rows.size() == 1);
  CHECK(b.rows[0].alert.raised == t0 - minutes{60});
}

TEST_CASE("an open alert follows its figures: told once, restated when they differ") {
  const auto up_to = [](double ppm) -> Fact {
    return {"alerts.solvent", {say::number("peak", Measure::concentration, ppm)}};
  };
  OpenAlerts alerts;
  OpenAlerts::Rows rows;
  alerts.restate(AlertRule::solvent, "front", up_to(500), rows);
  CHECK(rows.empty());  // none is open
  alerts.raise(AlertRule::solvent, "front", up_to(500), {"advice.solvent"}, Time{}, rows);
  alerts.restate(AlertRule::solvent, "front", up_to(500), rows);
  REQUIRE(rows.size() == 1);
  alerts.restate(AlertRule::solvent, "front", up_to(900), rows);
  REQUIRE(rows.size() == 2);
  CHECK(rows[1].step == AlertStep::restated);
  CHECK(rows[1].alert.what == up_to(900));
  CHECK(rows[1].alert.raised == Time{});
  CHECK(alerts.open().front().what == up_to(900));
}
