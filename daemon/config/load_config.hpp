// Reads dryclock.toml and the catalogue files beside it.
#pragma once

#include <filesystem>

#include "config/config.hpp"

namespace dryclock {

// `file` is dryclock.toml; `shipped` the folder of the catalogue files that come with dryclock (films.toml,
// solutions.toml, panels.toml, water.toml). A catalogue file that stands beside dryclock.toml is taken
// instead of the shipped one. Relative paths inside the file are taken from the file's own folder.
// Throws ConfigError with every problem of every file.
[[nodiscard]] Config load_config(const std::filesystem::path& file, const std::filesystem::path& shipped);

}  // namespace dryclock
