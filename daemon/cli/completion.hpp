// `dryclock completion bash`.
#pragma once

#include <string>

namespace CLI {
class App;
}

namespace dryclock::cli {

// A bash completion script for every command and option that `app` has. Vehicles and pieces are not
// completed: that would ask the daemon at each tab.
[[nodiscard]] std::string bash_completion(const CLI::App& app);

}  // namespace dryclock::cli
