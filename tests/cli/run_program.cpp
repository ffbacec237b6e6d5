#include "cli/run_program.hpp"

#include <sys/wait.h>

#include <array>
#include <cstdio>
#include <stdexcept>

namespace dryclock::test {

Ran run(const std::string& arguments) {
  const std::string command =
      "unset DRYCLOCK_TOKEN DRYCLOCK_URL DRYCLOCK_WHO DRYCLOCK_LANGUAGE; export DRYCLOCK_CONFIG_DIR=config; "
      "cd "
      "'" DRYCLOCK_SOURCE_DIR "' && '" DRYCLOCK_PROGRAM "' " +
      arguments + " 2>&1";
  Ran ran;
  FILE* pipe = popen(command.c_str(), "r");
  if (pipe == nullptr) {
    throw std::runtime_error("no shell");
  }
  std::array<char, 4096> buffer{};
  while (const auto count = fread(buffer.data(), 1, buffer.size(), pipe)) {
    ran.out.append(buffer.data(), count);
  }
  const int status = pclose(pipe);
  ran.code = WIFEXITED(status) ? WEXITSTATUS(status) : -1;
  return ran;
}

}  // namespace dryclock::test
