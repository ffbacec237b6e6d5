// Sensors, the search for new ones, coupons and plates, and what the shop has shown.
#pragma once

#include "http/route.hpp"
#include "http/services.hpp"

namespace dryclock::http {

// `services` outlives the routes.
void add_sensor_routes(Routes& routes, const Services& services);

}  // namespace dryclock::http
