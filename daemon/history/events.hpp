// The events of the journal's rows, each decoded once, with its time, its vehicle and whether it stands.
#pragma once

#include <vector>

#include "domain/vehicle_of.hpp"
#include "history/dates.hpp"

namespace dryclock::history {

struct RecordedEvent {
  JournalRow row;           // as it stands in the journal, with what its payload says
  Event event;              // with its times put right
  VehicleId vehicle = 0;    // 0: it concerns the shop
  bool superseded = false;  // a later event says that it was entered wrongly
  bool redated = false;     // it came under a wrong clock
};

// Of event rows, in order.
[[nodiscard]] std::vector<RecordedEvent> events(std::vector<JournalRow> rows, const Dates& dates);
// All events from `from` on, in journal order. Problem: the database.
[[nodiscard]] Result<std::vector<RecordedEvent>> events(const store::Reader& reader, const Dates& dates,
                                                        Seq from = 1);

}  // namespace dryclock::history
