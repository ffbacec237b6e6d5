// An outlook by nothing but a piece's age: for tests of what becomes of an outlook.
#pragma once

#include "domain/outlook.hpp"

namespace dryclock::support {

// A milestone is reached so long after the lay: liquid gone after 2 h, wrap 4 h, trim 6 h, refit 8 h, clear
// 10 h, may leave 12 h; a vehicle's release when each of its pieces may leave, and nothing is planned.
inline constexpr double hours_each = 2.0;

// What is reached and needed is announced once; nothing is ever called worth a look, or taken back.
[[nodiscard]] OutlookAnswer judged_by_age(const OutlookTask& task);

}  // namespace dryclock::support
