// The client from its arguments to its exit code.
#pragma once

namespace dryclock::cli {

// Parses, runs and prints; the exit code is one of ExitCode's.
[[nodiscard]] int run_command_line(int argc, char** argv);

}  // namespace dryclock::cli
