// What is played: sensor messages in the order of the times they tell.
#pragma once

#include <string>
#include <vector>

#include "base/time.hpp"

namespace dryclock::play {

struct Message {
  Time at;
  std::string topic;
  std::string payload;
};
using Messages = std::vector<Message>;

// The payload of a sensor that knows the time: {"temperature":..,"humidity":..,"at":..}, with two decimals.
[[nodiscard]] std::string sensor_payload(double temperature, double humidity_pct, Time at);

}  // namespace dryclock::play
