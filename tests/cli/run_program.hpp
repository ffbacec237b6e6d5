// Runs the built client as a shell does.
#pragma once

#include <string>
#include <string_view>

namespace dryclock::test {

struct Ran {
  int code = -1;
  std::string out;  // standard output and error together
};

// From the repository's top, with its config folder; `arguments` are the shell's.
[[nodiscard]] Ran run(const std::string& arguments);

[[nodiscard]] inline bool has(const Ran& ran, std::string_view part) {
  return ran.out.find(part) != std::string::npos;
}

}  // namespace dryclock::test
