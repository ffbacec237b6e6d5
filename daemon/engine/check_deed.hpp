// Whether several events can be told as one deed.
#pragma once

#include <vector>

#include "domain/event.hpp"
#include "domain/refusal.hpp"

namespace dryclock::engine {

// Where each of them can be by itself: whether none needs another to have been, or stands in its way, so that
// all can follow once the first one has. `where` begins with the place in the list: "/events/1/panel".
[[nodiscard]] Allowed check_together(const std::vector<Event>& events);

}  // namespace dryclock::engine
