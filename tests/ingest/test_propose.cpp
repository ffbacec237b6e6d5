#include "ingest/propose.hpp"

#include <doctest/doctest.h>

#include <algorithm>

using namespace dryclock;
using namespace dryclock::ingest;

namespace {

const Time now = parse_rfc3339("2026-03-01T20:00:00Z").value();

HeardTopic heard(const std::string& topic, const std::string& payload) {
  return {topic, payload, now, 1, false};
}

const SensorRead& read(const ProposedSensor& sensor, Quantity quantity) {
  const auto found =
      std::ranges::find_if(sensor.reads, [&](const auto& one) { return one.read.quantity == quantity; });
  REQUIRE(found != sensor.reads.end());
  return found->read;
}

bool says(const ProposedSensor& sensor, const Fact& guess) {
  return std::ranges::find(sensor.guesses, guess) != sensor.guesses.end();
}

}  // namespace

TEST_CASE("nested values of one payload are one sensor") {
  const auto found = propose(
      {heard("shop/bench/telemetry", R"({"time":"2026-03-01T19:59:30Z","air":{"temp":66.9,"rh":0.51},)"
                                     R"("battery":{"temperature":21.0},"dewpoint":{"t":9.5}})")});
  REQUIRE(found.sensors.size() == 1);
  const auto& sensor = found.sensors[0];
  CHECK(sensor.name == "bench");
  REQUIRE(sensor.reads.size() == 2);
  CHECK(read(sensor, Quantity::air_temperature) == SensorRead{"shop/bench/telemetry", "/air/temp",
                                                              Quantity::air_temperature, Unit::fahrenheit,
                                                              1.0, 0.0, "/time"});
  CHECK(read(sensor, Quantity::relative_humidity).pointer == "/air/rh");
  CHECK(read(sensor, Quantity::relative_humidity).unit == Unit::fraction);
  CHECK(sensor.reads[0].sample == "66.9");  // as people write them
  CHECK(sensor.reads[1].sample == "0.51");
  CHECK(says(sensor, {"guesses.fahrenheit", {say::text("value", "66.9")}}));
  CHECK(says(sensor, {"guesses.fraction", {say::text("value", "0.51")}}));
  CHECK(says(sensor, {"guesses.time", {say::text("where", "/time")}}));
  CHECK(found.kinds == std::vector{TopicKind::readings});
}

TEST_CASE("a value a topic: what belongs to one device is one sensor") {
  const auto found = propose({heard("probe/7/temperature", "18.25"), heard("probe/7/humidity", "55"),
                              heard("probe/7/battery", "91"), heard("probe/7/availability", "online"),
                              heard("house/sensor/loft_temperature/state", "291.2"),
                              heard("house/sensor/loft_humidity/state", "\"61.5\"")});
  REQUIRE(found.sensors.size() == 2);
  const auto& loft = found.sensors[0].name == "loft" ? found.sensors[0] : found.sensors[1];
  const auto& probe = found.sensors[0].name == "loft" ? found.sensors[1] : found.sensors[0];
  CHECK(probe.name == "7");
  REQUIRE(probe.reads.size() == 2);
  CHECK(read(probe, Quantity::air_temperature).topic == "probe/7/temperature");
  CHECK(read(probe, Quantity::air_temperature).pointer.empty());
  CHECK(read(probe, Quantity::relative_humidity).unit == Unit::percent);
  CHECK(loft.name == "loft");
  CHECK(read(loft, Quantity::air_temperature).unit == Unit::kelvin);
  CHECK(found.kinds == std::vector{TopicKind::readings, TopicKind::readings, TopicKind::other,
                                   TopicKind::availability, TopicKind::readings, TopicKind::other});
}

TEST_CASE("what says that a device is there is no reading") {
  const auto found = propose({heard("a/status", "offline"), heard("a/availability", R"({"state":"online"})"),
                              heard("a/lwt", "Online"), heard("b", "temperature"), heard("c", "{}"),
                              heard("d", ""), heard("e/temperature", "not yet")});
  CHECK(found.sensors.empty());
  CHECK(found.kinds == std::vector{TopicKind::availability, TopicKind::availability, TopicKind::availability,
                                   TopicKind::other, TopicKind::other, TopicKind::other, TopicKind::other});
}

TEST_CASE("names are told apart, and second values are said") {
  const auto found = propose({heard("front/air", R"({"temperature":20.1,"temp":20.2,"humidity":48})"),
                              heard("back/air", R"({"temperature":17.5,"humidity":61})"),
                              heard("yard/air", R"([{"a/b~c":{"t":"4.5"}}])")});
  REQUIRE(found.sensors.size() == 3);
  std::vector<std::string> names;
  for (const auto& sensor : found.sensors) {
    names.push_back(sensor.name);
  }
  std::ranges::sort(names);
  CHECK(names == std::vector<std::string>{"air", "front-air", "yard-air"});
  const auto front = std::ranges::find(found.sensors, "front-air", &ProposedSensor::name);
  CHECK(
      says(*front, {"guesses.left-out",
                    {say::text("where", "/temp"), say::word("quantity", "words.quantity-air-temperature")}}));
  const auto yard = std::ranges::find(found.sensors, "yard-air", &ProposedSensor::name);
  CHECK(yard->reads[0].read.pointer == "/0/a~1b~0c/t");  // RFC 6901 section 3
  CHECK(yard->reads[0].sample == "\"4.5\"");
}

TEST_CASE("a device whose clock is wrong counts by the time of receipt") {
  const auto found = propose({heard("x/air", R"({"temperature":20.1,"humidity":48,"ts":1577836800})")});
  REQUIRE(found.sensors.size() == 1);
  CHECK(found.sensors[0].reads[0].read.time_pointer.empty());
}

TEST_CASE("a bare number is proposed wherever it would be read") {
  const auto found = propose({heard("x/temperature", "\t+18.5\r\n"), heard("y/temperature", "++18.5")});
  REQUIRE(found.sensors.size() == 1);
  CHECK(found.sensors[0].reads[0].read.topic == "x/temperature");
}

TEST_CASE("a size that no unit explains is not proposed") {
  CHECK(propose({heard("x/temperature", "-80")}).sensors.empty());
  CHECK(propose({heard("x/humidity", "140")}).sensors.empty());
  CHECK(propose({heard("x/humidity", "0")}).sensors.empty());
}
