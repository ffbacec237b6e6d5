// From the journal to a record. The rows go through the same decoder and the same engine as in the daemon, in
// an engine of the record's own, so that a record can still be made when the daemon has long forgotten the
// vehicle.
#pragma once

#include <functional>
#include <optional>
#include <string>

#include "base/result.hpp"
#include "domain/manner.hpp"
#include "domain/outlook.hpp"
#include "domain/setup.hpp"
#include "record/record.hpp"
#include "store/reader.hpp"

namespace dryclock::record {

struct Origin {
  std::string version;
  // The times that messages carry are the daemon's time (a recorded night is being played).
  bool time_from_messages = false;
  std::function<OutlookAnswer(OutlookTask)> look_ahead;  // compute::answer
  std::optional<Language> language{};                    // absent: the shop's
};

// Reads only. Takes as long as the daemon needs to replay the vehicle's stay: run it off the core thread.
// Settings are those of the journal's rows, the shop's name and how it is spoken to too. Problem: no such
// vehicle (`where` is "vehicle"), or the database.
[[nodiscard]] Result<Record> gather(const store::Reader& reader, VehicleId vehicle, const Origin& origin);

}  // namespace dryclock::record
