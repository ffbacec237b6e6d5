// An event's own fields in one line.
#pragma once

#include <string>

#include "domain/event.hpp"
#include "wording/words.hpp"

namespace dryclock::cli {

// "piece 12, zone edge, finding clear": what an event has beside the fields that all of them have, as far as
// it is told.
[[nodiscard]] std::string event_text(const EventDetail& detail, const wording::Words& words);

}  // namespace dryclock::cli
