// The shapes of events and answers as JSON Schema (2020-12), for OpenAPI 3.1: made of the lists of fields
// that writer and reader walk too.
#pragma once

#include <string>

namespace dryclock::wire {

// The members of `#/components/schemas`, as one JSON object. Objects are closed. "Event" is one of the
// events: what only the daemon gives is readOnly there, what is kept outside the journal writeOnly.
[[nodiscard]] std::string schemas();

}  // namespace dryclock::wire
