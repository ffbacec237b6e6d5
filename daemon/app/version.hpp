#pragma once

namespace dryclock::app {

inline constexpr const char* version = DRYCLOCK_VERSION;

}  // namespace dryclock::app
