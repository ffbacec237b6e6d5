#include <doctest/doctest.h>

#include "history/device_times.hpp"
#include "noon.hpp"
#include "support/capture_bound.hpp"

namespace dryclock::history {
namespace {

using namespace std::chrono_literals;

Reading telling(const std::string& sensor, Time at) {
  Reading reading;
  reading.sensor = sensor;
  reading.at = at;
  reading.source_time = true;
  return reading;
}

// `sensor` tells `at` when the machine, which boots at noon, has run for `boot_time`.
void tells(DeviceTimes& times, const std::string& sensor, Time at, Millis boot_time) {
  times.hear(telling(sensor, at), boot_time);
}

// A message a minute from the first minute on, by a device whose clock is `off`.
void tells_minutely(DeviceTimes& times, const std::string& sensor, int count, Millis off = 0ms) {
  for (int minute = 1; minute <= count; ++minute) {
    tells(times, sensor, noon + minute * 1min + off, minute * 1min);
  }
}

TEST_CASE("five messages that agree tell when the machine booted; four do not") {
  DeviceTimes times;
  CHECK_FALSE(times.booted());
  tells_minutely(times, "a", 4);
  CHECK_FALSE(times.booted());
  tells(times, "a", noon + 5min, 5min);
  CHECK(times.booted() == noon);
}

TEST_CASE("several sensors count together, and the median stands between them") {
  DeviceTimes times;
  for (const auto& [sensor, delay] : {std::pair{"a", 0s}, {"b", 2s}, {"c", 5s}}) {
    tells(times, sensor, noon + 1min - delay, 1min);
    tells(times, sensor, noon + 3min - delay, 3min);
  }
  // Booted, as they tell: -5 s, -5 s, -2 s, -2 s, 0, 0. The upper of the two in the middle.
  CHECK(times.booted() == noon - 2s);
}

TEST_CASE("what is old or has no time of its own does not count") {
  for (const int which : {0, 1, 2}) {
    CAPTURE(which);
    DeviceTimes times;
    for (int minute = 1; minute <= 9; ++minute) {
      Reading reading = telling("a", noon + minute * 1min);
      reading.retained = which == 0;
      reading.dup = which == 1;
      reading.source_time = which != 2;
      times.hear(reading, minute * 1min);
    }
    CHECK_FALSE(times.booted());
  }
}

TEST_CASE("temperature and humidity of one message count once, and so does a clock that stands still") {
  DeviceTimes times;
  for (int minute = 1; minute <= 4; ++minute) {
    for (int quantity = 0; quantity < 2; ++quantity) {
      tells(times, "a", noon + minute * 1min, minute * 1min);
    }
  }
  for (int minute = 5; minute <= 30; ++minute) {
    tells(times, "a", noon + 4min, minute * 1min);
    CHECK_FALSE(times.booted());
  }
}

TEST_CASE("what a broker kept and hands over at once tells nothing") {
  DeviceTimes times;
  const Time night = noon - 9h;
  for (int i = 0; i < 600; ++i) {  // a message each ten seconds, handed over within six seconds
    for (const auto* sensor : {"a", "b", "c", "d", "e", "f"}) {
      tells(times, sensor, night + i * 10s, 10min + i * 10ms);
    }
    CHECK_FALSE(times.booted());
  }
}

TEST_CASE("of messages that come close together, the one that tells the latest counts") {
  DeviceTimes times;
  for (int minute = 1; minute <= 5; ++minute) {
    tells(times, "a", noon + minute * 1min - 40s, minute * 1min);
    tells(times, "a", noon + minute * 1min + 10s, minute * 1min + 10s);
    tells(times, "a", noon + minute * 1min - 20s, minute * 1min + 20s);
  }
  CHECK(times.booted() == noon);
}

TEST_CASE("one device of three that is an hour off changes nothing; one of two leaves it open") {
  DeviceTimes three;
  tells_minutely(three, "a", 5);
  tells_minutely(three, "b", 5, -1h);
  CHECK_FALSE(three.booted());
  tells_minutely(three, "c", 5);
  CHECK(three.booted() == noon);
}

TEST_CASE("a minute apart still agrees, more does not") {
  for (const auto& [off, agree] : {std::pair{60'000ms, true}, {60'001ms, false}}) {
    CAPTURE_BOUND(agree);
    DeviceTimes times;
    tells_minutely(times, "a", 4);
    tells_minutely(times, "b", 3, -off);  // 3 of 7: without them it is no clear majority
    CHECK(times.booted().has_value() == agree);
  }
}

TEST_CASE("a device that is put right is believed once its wrong times are no longer the newest") {
  DeviceTimes times;
  tells_minutely(times, "a", 5, 2h);
  CHECK(times.booted() == noon + 2h);
  for (int minute = 6; minute <= 10; ++minute) {
    tells(times, "a", noon + minute * 1min, minute * 1min);
  }
  CHECK(times.booted() == noon);
}

}  // namespace
}  // namespace dryclock::history
