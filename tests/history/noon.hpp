// The moment that the clocks of these tests start from.
#pragma once

#include "domain/types.hpp"

namespace dryclock::history {

inline const Time noon = from_unix_ms(1'793'534'400'000);  // 2026-11-01T12:00:00Z

}  // namespace dryclock::history
