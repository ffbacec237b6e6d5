// "The times that messages carry" as the daemon's time: so that a recorded night plays at any speed. Core and
// record share it, for a record must replay what the core did.
#pragma once

#include <algorithm>

#include "ingest/decode.hpp"

namespace dryclock::ingest {

// Stage 3, with the row's time of receipt moved to the newest time that it or any row before it has told;
// `now` is that of the rows before.
[[nodiscard]] inline Decoded decode_in_message_time(JournalRow& row, const Mappings& mappings, Time now) {
  Time& received = row.message.received_at;
  received = now;
  Decoded decoded = decode(row, mappings);
  for (const Reading& reading : decoded.readings) {
    received = reading.source_time ? std::max(received, reading.at) : received;
  }
  if (decoded.event) {
    received = std::max(received, decoded.event->at);
    decoded.event->entered = received;
  }
  return decoded;
}

}  // namespace dryclock::ingest
