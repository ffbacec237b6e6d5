// The built program, told to ask a server that runs in this test.
#pragma once

#include <fmt/core.h>

#include <string>

#include "cli/run_program.hpp"
#include "http/running_server.hpp"

namespace dryclock::test {

inline Ran run_against(const RunningServer& server, const std::string& arguments) {
  return run(fmt::format("--url http://127.0.0.1:{} {}", server.port(), arguments));
}

}  // namespace dryclock::test
