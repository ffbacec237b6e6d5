// What is read from the journal: the record of a vehicle and its papers, vehicles that have left, rechecks,
// and who the customer is.
#pragma once

#include "http/route.hpp"
#include "http/services.hpp"

namespace dryclock::http {

// `services` outlives the routes.
void add_evidence_routes(Routes& routes, const Services& services);

}  // namespace dryclock::http
