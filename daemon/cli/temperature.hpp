// Temperatures as people type them.
#pragma once

#include <string_view>

#include "base/result.hpp"

namespace dryclock::cli {

// "21", "21C", "21.5 C" or "70F". [C] Errors: not that form, outside -90 to 200 C.
[[nodiscard]] Result<double> parse_temperature(std::string_view text);

}  // namespace dryclock::cli
