// The [[sensor]] tables of dryclock.toml.
#pragma once

#include <string>
#include <vector>

#include "config/section.hpp"
#include "domain/setup.hpp"

namespace dryclock::config {

struct ReadSensors {
  std::vector<SensorMapping> mappings;  // one for each thing that a sensor measures
  std::vector<SensorAbout> about;       // one for each sensor that says more
};

// `bays` are those that the file defines.
[[nodiscard]] ReadSensors read_sensors(Section& root, const std::vector<BaySetup>& bays);

}  // namespace dryclock::config
