// A vehicle's record on request, made on a thread of the pool from what is on disk.
#pragma once

#include "config/config.hpp"
#include "http/services.hpp"
#include "record/gather.hpp"
#include "seal/sealer.hpp"

namespace dryclock::app {

// What a record is made with beside the journal. Problem: the time zone.
[[nodiscard]] Result<record::Origin> origin_of(const Config& config);

// `sealer`: asked for a checkpoint where the record's last rows have none yet, and waited for a few seconds;
// null: nothing is sealed. It must not be stopped meanwhile.
[[nodiscard]] http::RecordAnswer make_evidence(const Config& config, seal::Sealer* sealer,
                                               const http::RecordRequest& request);

// For the recheck: vehicles that have left, and one of them as it was then. On a thread of the pool too.
[[nodiscard]] http::HandedOverAnswer make_handed_over(const Config& config, Time now);
[[nodiscard]] Result<VehicleSummary> make_past_vehicle(const Config& config, VehicleId vehicle);

}  // namespace dryclock::app
