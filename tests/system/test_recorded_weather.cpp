#include <doctest/doctest.h>

#include <sstream>
#include <stdexcept>

#include "play/recorded_weather.hpp"

namespace dryclock::play {
namespace {

Time at(const char* text) {
  return parse_rfc3339(text).value();
}

const std::string csv =
    "origin,temp,humid,time_hour\n"
    "EWR,10,10,2013-03-01T00:00:00Z\n"
    "JFK,40,80,2013-03-01T00:00:00Z\n"
    "JFK,NA,NA,2013-03-01T01:00:00Z\n"
    "JFK,44,60,2013-03-01T02:00:00Z\n";

Messages play(Time from, Millis length, Millis every) {
  std::istringstream in{csv};
  return recorded_weather(in, {"JFK", from, length, every, "w"});
}

}  // namespace

TEST_CASE("recorded weather stays in Fahrenheit, is linear between hours and bridges those without values") {
  const auto messages = play(at("2013-03-01T00:00:00Z"), std::chrono::hours{2}, std::chrono::minutes{30});
  REQUIRE(messages.size() == 4);
  CHECK(messages[0].payload == R"({"temperature":41.00,"humidity":75.00,"at":"2013-03-01T00:30:00.000Z"})");
  CHECK(messages[3].payload == R"({"temperature":44.00,"humidity":60.00,"at":"2013-03-01T02:00:00.000Z"})");
  CHECK(messages[3].topic == "w");
}

TEST_CASE("a time that the weather file does not cover is an error, and so is a missing column") {
  CHECK_THROWS_AS((void)play(at("2013-03-01T01:00:00Z"), std::chrono::hours{3}, std::chrono::hours{1}),
                  std::runtime_error);
  CHECK_THROWS_AS((void)play(at("2013-02-28T20:00:00Z"), std::chrono::hours{1}, std::chrono::hours{1}),
                  std::runtime_error);
  std::istringstream in{"origin,temp\n"};
  CHECK_THROWS_AS((void)recorded_weather(in, {"JFK", {}, std::chrono::hours{1}, std::chrono::hours{1}, "w"}),
                  std::runtime_error);
}

}  // namespace dryclock::play
