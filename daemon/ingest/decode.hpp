// Stage 3: a journal row to readings, an event, or the reason why not. Stateless; the row itself is kept
// whatever comes out of it.
#pragma once

#include <vector>

#include "domain/effects.hpp"
#include "domain/types.hpp"

namespace dryclock::ingest {

using Mappings = std::vector<SensorMapping>;

// One message gives one reading or one reject for every mapping whose filter takes its topic (a sensor that
// sends temperature and humidity together has two). A message that no mapping takes is one reject. An event
// row gives the event, numbered by the row; a `configured` row the settings, a `redated` row a boot's time,
// an `announced` row what was said, a `learnt` row what a vehicle taught. Other rows that tell of the daemon
// itself give nothing.
[[nodiscard]] Decoded decode(const JournalRow& row, const Mappings& mappings);

}  // namespace dryclock::ingest
