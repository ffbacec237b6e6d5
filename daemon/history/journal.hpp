// The journal as start and record read it: which events and which settings there are, before any other row is
// walked over.
#pragma once

#include <functional>
#include <memory>
#include <vector>

#include "domain/configured.hpp"
#include "history/events.hpp"

namespace dryclock::history {

// A vehicle's air, and the screen's memory, begin so long before it comes.
inline constexpr std::chrono::hours lead{26};

struct Journal {
  Dates dates;
  std::vector<RecordedEvent> events;
  std::vector<JournalRow> settings;           // in order
  std::vector<JournalRow> learnt;             // in order
  std::shared_ptr<const Configured> assumed;  // for the rows before the first settings; may be null
  store::Extent extent;                       // with the times put right

  // Problem: the database.
  [[nodiscard]] static Result<Journal> read(const store::Reader& reader, bool by_messages);

  // An event's row, read from the journal once more, gets what its payload says.
  void recall(JournalRow& row) const;

  // Settings, what was learnt and the events that are `wanted`, in order, of the rows before `window`.
  [[nodiscard]] std::vector<JournalRow> before(Seq window,
                                               const std::function<bool(const RecordedEvent&)>& wanted) const;
};

// Whether it concerns the shop, or takes such an event back.
[[nodiscard]] bool of_the_shop(const RecordedEvent& one);

}  // namespace dryclock::history
