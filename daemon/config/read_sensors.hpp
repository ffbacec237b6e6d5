// The [[sensor]] tables of dryclock.toml.
#pragma once

#include <string>
#include <vector>

#include "config/section.hpp"
#include "domain/setup.hpp"

namespace dryclock::config {

// One mapping for each thing that a sensor measures. `bays` are those that the file defines.
[[nodiscard]] std::vector<SensorMapping> read_sensors(Section& root, const std::vector<BaySetup>& bays);

}  // namespace dryclock::config
