// Sensors as the configuration file has them.
#pragma once

#include <string>
#include <vector>

#include "domain/sensor_view.hpp"

namespace dryclock::cli {

// One [[sensor]] block each, as dryclockd --check accepts it.
[[nodiscard]] std::string sensor_toml(const std::vector<SensorView>& sensors);

}  // namespace dryclock::cli
