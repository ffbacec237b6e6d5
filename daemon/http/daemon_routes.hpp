// The daemon about itself: how it is, where its alerts go, and what its API has.
#pragma once

#include "http/route.hpp"
#include "http/services.hpp"

namespace dryclock::http {

// `services` outlives the routes.
void add_daemon_routes(Routes& routes, const Services& services);

}  // namespace dryclock::http
