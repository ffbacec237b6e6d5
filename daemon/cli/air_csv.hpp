// A night's air as a table: CSV with a header line, `time,air_c,rh_pct[,panel_c]` in any order.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "cli/dry_case.hpp"
#include "config/problems.hpp"

namespace dryclock::cli {

// `time` is hours from the start, or RFC 3339 (the first row is then the start); it must rise. Lines that are
// empty or start with "#" are passed over. An empty panel_c is "not measured here". `name` stands in
// problems.
[[nodiscard]] std::vector<AirAt> parse_air_csv(std::string_view text, const std::string& name,
                                               config::Problems& problems);

}  // namespace dryclock::cli
