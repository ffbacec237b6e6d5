// The air of an invented shop in a winter night: bays with a thermostat each, and outside.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "play/message.hpp"

namespace dryclock::play {

struct ScriptedBay {
  std::string name;
  double set_c = 20.0;             // the thermostat's setting
  std::optional<Time> heater_off;  // from here on it gives no heat
  std::optional<Time> heater_on;   // until it is mended
};

struct NightOptions {
  std::vector<ScriptedBay> bays;
  Time from;
  Millis length{};
  Millis every = std::chrono::minutes{1};
  std::string base;  // topics are <base>/<bay>/air, and <base>/outside/air
};

// In order of time; the same options give the same messages. Temperatures in C.
[[nodiscard]] Messages scripted_night(const NightOptions& options);

}  // namespace dryclock::play
