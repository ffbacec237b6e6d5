// Which events of the journal speak of one vehicle, and what of them stands.
#pragma once

#include <optional>
#include <set>
#include <vector>

#include "domain/types.hpp"
#include "record/record.hpp"

namespace dryclock::record {

struct EventRow {
  JournalRow row;
  Event event;
  bool superseded = false;
};

// `rows`: all event rows of the journal, in order. Those of the vehicle come back, in order.
[[nodiscard]] std::vector<EventRow> events_of(const std::vector<JournalRow>& rows, VehicleId vehicle);

// Rows of the events that concern the shop, of those that take such an event back, and of settings, in order.
// `events`, `settings`: all such rows of the journal, in order.
[[nodiscard]] std::vector<JournalRow> shop_rows(const std::vector<JournalRow>& events,
                                                const std::vector<JournalRow>& settings);

// The release that stands; null where there is none.
[[nodiscard]] const EventRow* release_in(const std::vector<EventRow>& events);

// Where it stood from arrival to `to`; empty where its arrival does not stand.
[[nodiscard]] std::vector<Stay> stays_in(const std::vector<EventRow>& events, Time to);

}  // namespace dryclock::record
