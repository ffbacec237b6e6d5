// `dryclockd --rebuild`: fills what follows from the journal again, and sends nothing.
#pragma once

#include "config/config.hpp"

namespace dryclock::app {

// With the daemon stopped. The process's exit code: 0, or 1 where the database cannot be read or written; the
// log says what was done.
[[nodiscard]] int rebuild(const Config& config);

}  // namespace dryclock::app
