#include "engine/screen.hpp"
#include "engine/told.hpp"
#include "support/capture_bound.hpp"

#include <doctest/doctest.h>

using namespace dryclock;
using engine::Screen;
using std::chrono::hours;
using std::chrono::minutes;
using test::t0;

namespace {

Reading reading(Time at, double value, Quantity quantity = Quantity::air_temperature,
                bool source_time = true) {
  Reading r;
  r.sensor = "probe";
  r.bay = "front";
  r.quantity = quantity;
  r.at = at;
  r.source_time = source_time;
  r.value = r.raw = value;
  return r;
}

Verdict judge(Screen& screen, const Reading& r) {
  return screen.judge(r, r.at, {});
}

}  // namespace

TEST_CASE("the same sensor, quantity and source time is a duplicate, whatever the value") {
  Screen s{{}, {}};
  CHECK(judge(s, reading(t0, 20.0)) == Verdict::ok);
  CHECK(judge(s, reading(t0, 20.0)) == Verdict::duplicate);
  CHECK(judge(s, reading(t0, 20.5)) == Verdict::duplicate);
  CHECK(judge(s, reading(t0, 50.0, Quantity::relative_humidity)) == Verdict::ok);
  CHECK(judge(s, reading(t0 + minutes{1}, 20.0)) == Verdict::ok);
}

TEST_CASE("the broker's hint counts only where no source time tells, and the value is the same") {
  Screen s{{}, {}};
  auto r = reading(t0, 20.0, Quantity::air_temperature, false);
  CHECK(judge(s, r) == Verdict::ok);
  r.dup = true;
  r.at += minutes{1};
  CHECK(judge(s, r) == Verdict::suspect_dup);
  r.raw = r.value = 20.1;
  CHECK(judge(s, r) == Verdict::ok);
  r.source_time = true;
  r.at += minutes{1};
  CHECK(judge(s, r) == Verdict::ok);
}

TEST_CASE("a retained message has no age: it feeds nothing and breaks no silence") {
  Screen s{{}, {}};
  auto r = reading(t0, 20.0);
  r.retained = true;
  CHECK(judge(s, r) == Verdict::retained);
  CHECK_FALSE(s.by_name().at("probe").heard.has_value());
  r.retained = false;
  CHECK(judge(s, r) == Verdict::ok);  // and it is no duplicate of what was not used
  CHECK(s.by_name().at("probe").heard == t0);
}

TEST_CASE("a source clock ahead of ours by more than five minutes is skewed") {
  Screen s{{}, {}};
  CHECK(s.judge(reading(t0 + minutes{5}, 20.0), t0, {}) == Verdict::ok);
  CHECK(s.judge(reading(t0 + minutes{5} + Millis{1}, 20.0), t0, {}) == Verdict::skewed);
}

TEST_CASE("older than what was integrated is late") {
  Screen s{{}, {}};
  CHECK(s.judge(reading(t0, 20.0), t0, {true, false}) == Verdict::late);
}

TEST_CASE("no bay is like that") {
  Screen s{{}, {}};
  CHECK(judge(s, reading(t0, 70.0)) == Verdict::implausible);  // 21 C sent as 70 F
  CHECK(judge(s, reading(t0 + minutes{1}, -31.0)) == Verdict::implausible);
  CHECK(judge(s, reading(t0, 0.0, Quantity::relative_humidity)) == Verdict::implausible);
  CHECK(judge(s, reading(t0 + minutes{1}, 106.0, Quantity::relative_humidity)) == Verdict::implausible);
  CHECK(judge(s, reading(t0 + minutes{2}, 100.0, Quantity::relative_humidity)) == Verdict::ok);
  CHECK(judge(s, reading(t0, 110.0, Quantity::panel_temperature)) == Verdict::ok);
  CHECK(s.by_name().at("probe").implausible);  // its temperature still is
}

TEST_CASE("a jump is a spike until three in a row stand near each other") {
  Screen s{{}, {}};
  CHECK(judge(s, reading(t0, 20.0)) == Verdict::ok);
  CHECK(judge(s, reading(t0 + minutes{1}, 30.0)) == Verdict::spike);
  CHECK(judge(s, reading(t0 + minutes{2}, 20.1)) == Verdict::ok);  // it was one
  CHECK(judge(s, reading(t0 + minutes{3}, 40.0)) == Verdict::spike);
  CHECK(judge(s, reading(t0 + minutes{4}, 50.0)) == Verdict::spike);  // not near: counts afresh
  CHECK(judge(s, reading(t0 + minutes{5}, 51.0)) == Verdict::spike);
  CHECK(judge(s, reading(t0 + minutes{6}, 50.5)) == Verdict::ok);  // the third: it was real
  CHECK(judge(s, reading(t0 + minutes{7}, 50.4)) == Verdict::ok);
}

TEST_CASE("after a pause the air may have gone further") {
  Screen s{{}, {}};
  CHECK(judge(s, reading(t0, 20.0)) == Verdict::ok);
  CHECK(judge(s, reading(t0 + minutes{4}, 40.0)) == Verdict::ok);  // 5 K a minute
}

TEST_CASE("a sensor whose every value rests for six hours is stuck, to the minute") {
  Screen s{{}, {}};
  int ok = 0;
  int stuck = 0;
  for (int i = 0; i <= 400; ++i) {
    const auto t = judge(s, reading(t0 + minutes{i}, 20.0));
    const auto h = judge(s, reading(t0 + minutes{i}, 50.0, Quantity::relative_humidity));
    ok += h == Verdict::ok ? 1 : 0;
    stuck += h == Verdict::stuck ? 1 : 0;
    if (i == 360) {
      CHECK(t == Verdict::ok);
    }
    if (i == 361) {
      CHECK(h == Verdict::stuck);
    }
  }
  CHECK(ok == 361);
  CHECK(stuck == 40);
  CHECK(s.by_name().at("probe").stuck);
  CHECK(judge(s, reading(t0 + minutes{401}, 20.1)) == Verdict::ok);
}

TEST_CASE("one quantity may rest for a night on a coarse sensor, but not for a day") {
  Screen s{{}, {}};
  for (int i = 0; i <= 1500; ++i) {
    judge(s, reading(t0 + minutes{i}, 20.0 + 0.1 * (i % 3)));
    const auto h = judge(s, reading(t0 + minutes{i}, 50.0, Quantity::relative_humidity));
    CHECK(h == (i <= 24 * 60 ? Verdict::ok : Verdict::stuck));
  }
}

TEST_CASE("silence is not stuck") {
  Screen s{{}, {}};
  CHECK(judge(s, reading(t0, 20.0)) == Verdict::ok);
  CHECK(judge(s, reading(t0 + hours{30}, 20.0)) == Verdict::ok);
}

// Common practice, no source: bays from -30 to 60 C, panels to 110 C under a lamp, a fan to 30 m/s.
TEST_CASE("limits of what a bay can be like, on both sides") {
  const auto verdict = [](Quantity quantity, double value) {
    Screen s{{}, {}};
    return judge(s, reading(t0, value, quantity));
  };
  const struct {
    Quantity quantity;
    double limit, beyond;
  } limits[] = {{Quantity::air_temperature, -30.0, -31.0},   {Quantity::air_temperature, 60.0, 61.0},
                {Quantity::panel_temperature, -30.0, -31.0}, {Quantity::panel_temperature, 110.0, 111.0},
                {Quantity::relative_humidity, 105.0, 105.5}, {Quantity::air_speed, 30.0, 30.5}};
  for (const auto& [quantity, limit, beyond] : limits) {
    CAPTURE_BOUND(limit);
    CHECK(verdict(quantity, limit) == Verdict::ok);
    CHECK(verdict(quantity, beyond) == Verdict::implausible);
  }
}

// Common practice, no source: a door that stands open takes 5 K and 30 %RH a minute at most.
TEST_CASE("air goes 5 K and 30 %RH a minute, and no further") {
  const auto next = [](Quantity quantity, double from, double to) {
    Screen s{{}, {}};
    judge(s, reading(t0, from, quantity));
    return judge(s, reading(t0 + minutes{1}, to, quantity));
  };
  CHECK(next(Quantity::air_temperature, 20.0, 25.0) == Verdict::ok);
  CHECK(next(Quantity::air_temperature, 20.0, 25.2) == Verdict::spike);
  CHECK(next(Quantity::relative_humidity, 40.0, 70.0) == Verdict::ok);
  CHECK(next(Quantity::relative_humidity, 40.0, 71.0) == Verdict::spike);
}

// Between two messages a sensor may pause for a third of the six hours.
TEST_CASE("a slow sensor rests as well, unless two hours go by without a word") {
  const auto last = [](minutes every) {
    Screen s{{}, {}};
    Verdict verdict = Verdict::ok;
    for (minutes at{0}; at <= hours{12}; at += every) {
      verdict = judge(s, reading(t0 + at, 20.0));
      verdict = judge(s, reading(t0 + at, 50.0, Quantity::relative_humidity));
    }
    return verdict;
  };
  CHECK(last(minutes{115}) == Verdict::stuck);
  CHECK(last(minutes{125}) == Verdict::ok);
}
