// Everything that time alone drives happens at whole minutes of event time: the state is then the same
// however the calls cut the time.
#pragma once

#include "base/time.hpp"

namespace dryclock::engine {

inline constexpr Millis minute = std::chrono::minutes{1};

[[nodiscard]] constexpr Time floor_minute(Time t) {
  return std::chrono::floor<std::chrono::minutes>(t);
}
[[nodiscard]] constexpr Time ceil_minute(Time t) {
  return std::chrono::ceil<std::chrono::minutes>(t);
}
[[nodiscard]] constexpr double hours(Millis span) {
  return std::chrono::duration<double, std::ratio<3600>>(span).count();
}

}  // namespace dryclock::engine
