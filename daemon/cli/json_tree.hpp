// JSON text to the same tree that TOML becomes, so that case files may be either.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "config/problems.hpp"
#include "config/tree.hpp"

namespace dryclock::cli {

// Places are JSON pointers (RFC 6901). Nothing, and a problem added, when the text is not JSON.
[[nodiscard]] std::optional<config::Node> parse_json(std::string_view text, const std::string& name,
                                                     config::Problems& problems);

}  // namespace dryclock::cli
