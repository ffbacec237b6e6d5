// What is in the shop: the board and its parts, the catalogue, air and history, alerts, and the events, which
// are sent here too.
#pragma once

#include "http/route.hpp"
#include "http/services.hpp"

namespace dryclock::http {

// `services` outlives the routes.
void add_shop_routes(Routes& routes, const Services& services);

}  // namespace dryclock::http
