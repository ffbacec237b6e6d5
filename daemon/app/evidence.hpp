// A vehicle's record on request, and what else is made on a thread of the pool from what is on disk. Nothing
// here waits for another thread.
#pragma once

#include <filesystem>
#include <map>
#include <optional>
#include <vector>

#include "config/config.hpp"
#include "domain/rechecks.hpp"
#include "http/services.hpp"
#include "record/gather.hpp"

namespace dryclock::app {

// Where the sealed files are: beside the database.
[[nodiscard]] std::filesystem::path seal_folder(const Config& config);

// First part: what the record says, from the journal, in the shop's language where none is named. Problem:
// the database, or no such vehicle.
[[nodiscard]] Result<record::Record> gather_evidence(const Config& config, VehicleId vehicle,
                                                     std::optional<Language> language = {});
// Second part: adds what the seal's folder has of it by now where the journal is `sealed`, and sets the
// pages.
[[nodiscard]] http::RecordAnswer finish_evidence(const Config& config, record::Record record, bool sealed,
                                                 const http::RecordRequest& request);

// For the recheck: vehicles that have left, and one of them as it was then. On a thread of the pool too.
[[nodiscard]] Result<HandedOverAnswer> make_handed_over(const Config& config, Time now);
[[nodiscard]] Result<VehicleSummary> make_past_vehicle(const Config& config, VehicleId vehicle);

// Among all vehicles of the journal; likewise.
[[nodiscard]] Result<SearchAnswer> make_search(const Config& config, const SearchQuery& query, Time now);

// For what rechecks say: record::rechecked_vehicles() and record::rechecked_pieces(), from the database.
[[nodiscard]] Result<std::map<VehicleId, Seq>> list_rechecked(const Config& config);
[[nodiscard]] Result<std::vector<RecheckedPiece>> find_rechecked(const Config& config, VehicleId vehicle);

}  // namespace dryclock::app
