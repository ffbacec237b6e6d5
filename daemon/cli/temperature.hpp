// Temperatures as people type and read them.
#pragma once

#include <string>
#include <string_view>

#include "base/result.hpp"

namespace dryclock::cli {

// "21", "21C", "21.5 C" or "70F". [C] Errors: not that form, outside -90 to 200 C.
[[nodiscard]] Result<double> parse_temperature(std::string_view text);

// "21.0 C" or "69.8 F".
[[nodiscard]] std::string show_temperature(double celsius, bool fahrenheit);

}  // namespace dryclock::cli
