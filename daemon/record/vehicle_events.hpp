// Which events speak of one vehicle, and what they say of its stay.
#pragma once

#include <vector>

#include "history/events.hpp"
#include "record/record.hpp"

namespace dryclock::record {

// In order, as `all` is.
[[nodiscard]] std::vector<history::RecordedEvent> events_of(const std::vector<history::RecordedEvent>& all,
                                                            VehicleId vehicle);

// The release that stands; null where there is none.
[[nodiscard]] const history::RecordedEvent* release_in(const std::vector<history::RecordedEvent>& events);

// Whether it was entered so long after it happened that it counts as told later, not at once.
[[nodiscard]] bool entered_late(const Event& event);

// Where it stood from arrival to `to`; empty where its arrival does not stand.
[[nodiscard]] std::vector<Stay> stays_in(const std::vector<history::RecordedEvent>& events, Time to);

}  // namespace dryclock::record
