// How a panel takes heat, as panels.toml and case files write it.
#pragma once

#include "config/section.hpp"
#include "models/catalogue.hpp"

namespace dryclock::config {

// What `section` does not say is as `usual`.
[[nodiscard]] models::PanelThermal read_thermal(Section& section, models::PanelThermal usual);

}  // namespace dryclock::config
