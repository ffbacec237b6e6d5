// Temperatures in sentences that the engine wrote: it writes them in C, as in "9.4 C", and differences of
// them in K; people may want F for both.
#pragma once

#include <string>
#include <string_view>

namespace dryclock {

// "it is at 12.5 C" -> "it is at 54.5 F", "by 2.0 K" -> "by 3.6 F"; as many decimals as before. All else
// stays as it is.
[[nodiscard]] std::string in_fahrenheit(std::string_view sentence);

}  // namespace dryclock
