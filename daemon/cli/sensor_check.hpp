// sensors check: a sensor in a box over a saturated salt solution, step by step.
#pragma once

#include "cli/commands.hpp"

namespace dryclock::cli {

void add_check_command(CLI::App& sensors, Action& action);

}  // namespace dryclock::cli
