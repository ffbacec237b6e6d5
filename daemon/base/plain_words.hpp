// Spans of time and shares as people say them.
#pragma once

#include <string>

#include "base/time.hpp"

namespace dryclock {

// "0 min", "2 h 10 min", "3 h", "1 day", "3 days 4 h": whole minutes, or hours from a day on; what is left
// over is dropped.
[[nodiscard]] std::string span(Millis length);
// "45 s" below two minutes, then as span(): for what was a moment ago.
[[nodiscard]] std::string short_span(Millis length);
// 0.873 -> "87 %", with one decimal "87.3 %". "-" for what is no number.
[[nodiscard]] std::string percent(double share, int decimals = 0);

}  // namespace dryclock
