// /api/v1/sensors, /api/v1/sensors/search and /api/v1/coupons.
#pragma once

#include <optional>

#include "http/message.hpp"
#include "http/services.hpp"
#include "http/target.hpp"

namespace dryclock::http {

// Absent: another route.
[[nodiscard]] std::optional<Response> sensor_route(const Request& request, const Target& target,
                                                   const Services& services);

}  // namespace dryclock::http
