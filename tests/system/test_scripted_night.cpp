#include <doctest/doctest.h>

#include <algorithm>
#include <cstdio>

#include "play/scripted_night.hpp"

namespace dryclock::play {
namespace {

struct Air {
  double temperature = 0.0, humidity = 0.0;
};

Air air_by(const Messages& messages, const std::string& topic, Time at) {
  const auto found = std::ranges::find_if(
      messages, [&](const Message& message) { return message.topic == topic && message.at == at; });
  REQUIRE(found != messages.end());
  Air air;
  REQUIRE(std::sscanf(found->payload.c_str(), R"({"temperature":%lf,"humidity":%lf)", &air.temperature,
                      &air.humidity) == 2);
  return air;
}

}  // namespace

TEST_CASE("a heated bay keeps its setting; one whose heater fails grows cold and damp, until it is mended") {
  const Time start = parse_rfc3339("2026-01-20T15:00:00Z").value();
  const auto hour = [&](int hours) { return start + std::chrono::hours{hours}; };
  const auto messages = scripted_night({{{"front", 20.5, {}, {}}, {"back", 19.0, hour(11), hour(16)}},
                                        start,
                                        std::chrono::hours{24},
                                        std::chrono::minutes{10},
                                        "shop"});

  CHECK(messages.size() == 3 * (24 * 6 + 1));
  CHECK(std::ranges::is_sorted(messages, {}, &Message::at));
  for (int hours = 0; hours <= 24; ++hours) {
    const auto front = air_by(messages, "shop/front/air", hour(hours));
    CHECK(front.temperature == doctest::Approx(20.5).epsilon(0.03));
    CHECK(front.humidity > 20.0);
    CHECK(front.humidity < 60.0);
  }
  CHECK(air_by(messages, "shop/back/air", hour(11)).temperature == doctest::Approx(19.0).epsilon(0.03));
  const auto cold = air_by(messages, "shop/back/air", hour(16));
  CHECK(cold.temperature < 10.0);
  CHECK(cold.humidity > 70.0);
  CHECK(cold.humidity <= 100.0);
  CHECK(air_by(messages, "shop/back/air", hour(20)).temperature > 17.0);
}

}  // namespace dryclock::play
