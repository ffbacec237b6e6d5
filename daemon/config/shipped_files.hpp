// Where the files that come with dryclock are: films.toml, solutions.toml, panels.toml, water.toml, cases/.
#pragma once

#include <filesystem>
#include <string>

#include "base/result.hpp"

namespace dryclock {

// The first of these that holds films.toml: `asked` (from --config-dir; if given, it must), the environment's
// DRYCLOCK_CONFIG_DIR (likewise), ../share/dryclock seen from this program, and in development builds the
// source tree's config folder. Error: none does, with where was looked.
[[nodiscard]] Result<std::filesystem::path> find_shipped_files(const std::string& asked);

}  // namespace dryclock
