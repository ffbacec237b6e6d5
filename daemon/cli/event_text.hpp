// An event's own fields in one line.
#pragma once

#include <string>

#include "domain/event.hpp"

namespace dryclock::cli {

// "panel bonnet, part 1": what an event has beside the fields that all of them have, as far as it is told.
[[nodiscard]] std::string event_text(const EventDetail& detail);

}  // namespace dryclock::cli
