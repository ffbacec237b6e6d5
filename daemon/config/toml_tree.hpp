// TOML text to a tree. The only place that knows the TOML library.
#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <string_view>

#include "config/problems.hpp"
#include "config/tree.hpp"

namespace dryclock::config {

// `name` stands in messages. Nothing, and a problem added, when the text is not TOML (its parser stops at the
// first mistake).
[[nodiscard]] std::optional<Node> parse_toml(std::string_view text, const std::string& name,
                                             Problems& problems);

// The whole file; nothing, and a problem added, when it cannot be read.
[[nodiscard]] std::optional<std::string> read_file(const std::filesystem::path& file, Problems& problems);

}  // namespace dryclock::config
