// A password or token in a file of its own: not in the configuration, not on a command line. Under systemd it
// is a credential's path.
#pragma once

#include <filesystem>
#include <string>

#include "base/result.hpp"

namespace dryclock {

// The first line, without its end. Problem: the file cannot be read, or the line is empty.
[[nodiscard]] Result<std::string> read_secret(const std::filesystem::path& path);

}  // namespace dryclock
