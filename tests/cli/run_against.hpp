// The built program, told to ask the daemon that runs in this test.
#pragma once

#include <fmt/core.h>

#include <string>

#include "cli/run_program.hpp"
#include "support/running_shop.hpp"

namespace dryclock::test {

inline Ran run_against(const RunningShop& shop, const std::string& arguments) {
  return run(fmt::format("--url http://127.0.0.1:{} {}", shop.port(), arguments));
}

}  // namespace dryclock::test
