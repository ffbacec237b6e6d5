#include "app/evidence.hpp"

#include <utility>

#include "app/voice.hpp"
#include "base/version.hpp"
#include "compute/outlook.hpp"
#include "history/events.hpp"
#include "record/export.hpp"
#include "record/gather.hpp"
#include "record/handed_over.hpp"
#include "record/handover.hpp"
#include "record/pdf.hpp"
#include "record/receipt.hpp"
#include "record/rechecks.hpp"
#include "record/sealed_part.hpp"
#include "record/search.hpp"
#include "store/reader.hpp"
#include "wording/spoken.hpp"

namespace dryclock::app {
namespace {

record::Origin origin_of(const Config& config, std::optional<Language> language = {}) {
  return {.version = version,
          .time_from_messages = config.clock == ClockSource::messages,
          .look_ahead = compute::answer,
          .language = language};
}

Result<history::Dates> dates_of(const Config& config, const store::Reader& reader) {
  return history::Dates::read(reader, config.clock == ClockSource::messages);
}

}  // namespace

std::filesystem::path seal_folder(const Config& config) {
  return std::filesystem::absolute(config.store.path).parent_path() / "seal";
}

Result<record::Record> gather_evidence(const Config& config, VehicleId vehicle,
                                       std::optional<Language> language) {
  const auto reader = store::Reader::open(config.store.path);
  return reader ? record::gather(*reader, vehicle, origin_of(config, language))
                : Result<record::Record>{reader.error()};
}

Result<HandedOverAnswer> make_handed_over(const Config& config, Time now) {
  const auto reader = store::Reader::open(config.store.path);
  if (!reader) {
    return reader.error();
  }
  const auto dates = dates_of(config, *reader);
  if (!dates) {
    return dates.error();
  }
  auto vehicles = record::handed_over(*reader, *dates, now);
  if (!vehicles) {
    return vehicles.error();
  }
  return HandedOverAnswer{std::move(*vehicles)};
}

Result<SearchAnswer> make_search(const Config& config, const SearchQuery& query, Time now) {
  const auto reader = store::Reader::open(config.store.path);
  if (!reader) {
    return reader.error();
  }
  const auto dates = dates_of(config, *reader);
  return dates ? record::search(*reader, *dates, config.setup, words_for(config).zone(), query, now)
               : Result<SearchAnswer>{dates.error()};
}

Result<VehicleSummary> make_past_vehicle(const Config& config, VehicleId vehicle) {
  auto gathered = gather_evidence(config, vehicle);
  if (!gathered) {
    return gathered.error();
  }
  if (!gathered->released) {
    return Problem{"vehicle " + std::to_string(vehicle) + " has not left", "vehicle"};
  }
  VehicleSummary summary = gathered->at_end;
  summary.released = gathered->released;
  summary.pieces.clear();
  for (auto& piece : gathered->pieces) {
    summary.pieces.push_back(std::move(piece.summary));
    summary.pieces.back().early_steps = std::move(piece.early);
  }
  return wording::spoken(std::move(summary), words_for(config));
}

Result<std::map<VehicleId, Seq>> list_rechecked(const Config& config) {
  const auto reader = store::Reader::open(config.store.path);
  if (!reader) {
    return reader.error();
  }
  const auto dates = dates_of(config, *reader);
  const auto events =
      dates ? history::events(*reader, *dates) : Result<std::vector<history::RecordedEvent>>{dates.error()};
  if (!events) {
    return events.error();
  }
  return record::rechecked_vehicles(*events);
}

Result<std::vector<RecheckedPiece>> find_rechecked(const Config& config, VehicleId vehicle) {
  const auto reader = store::Reader::open(config.store.path);
  return reader ? record::rechecked_pieces(*reader, vehicle, origin_of(config))
                : Result<std::vector<RecheckedPiece>>{reader.error()};
}

http::RecordAnswer finish_evidence(const Config& config, record::Record record, bool sealed,
                                   const http::RecordRequest& request) {
  if (sealed) {
    const auto folder = seal_folder(config);
    // A number newer than the record's own would be missing from every copy of the record that is made later.
    if (request.form == http::RecordForm::receipt && !record.released) {
      record::add_newest_checkpoint(record, folder);
    } else {
      record::add_seal(record, folder);
    }
  }
  const auto paper = request.letter ? record::Paper::letter : record::Paper::a4;
  switch (request.form) {
    case http::RecordForm::pdf:
      return record::pdf(record, paper);
    case http::RecordForm::zip:
      return record::zip(record, paper);
    case http::RecordForm::handover:
      return record::handover_pdf(record, paper);
    case http::RecordForm::receipt:
      return record::receipt_pdf(record, paper);
  }
  return Problem{"no such form of a record", {}};
}

}  // namespace dryclock::app
