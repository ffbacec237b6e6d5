#include "app/evidence.hpp"

#include <chrono>
#include <filesystem>
#include <thread>

#include "base/local_time.hpp"
#include "base/version.hpp"
#include "compute/outlook.hpp"
#include "record/export.hpp"
#include "record/gather.hpp"
#include "record/handed_over.hpp"
#include "record/handover.hpp"
#include "record/pdf.hpp"
#include "record/receipt.hpp"
#include "record/sealed_part.hpp"
#include "store/reader.hpp"

namespace dryclock::app {
namespace {

using namespace std::chrono_literals;

constexpr auto seal_wait = 5s;

void await_seal(seal::Sealer& sealer, Seq last_row) {
  const auto covered = [&] {
    const auto last = sealer.last_checkpoint();
    return last && last->seq >= last_row;
  };
  if (covered()) {
    return;
  }
  sealer.seal_now("record");
  const auto until = std::chrono::steady_clock::now() + seal_wait;
  while (!covered() && std::chrono::steady_clock::now() < until) {
    std::this_thread::sleep_for(20ms);
  }
}

}  // namespace

Result<record::Origin> origin_of(const Config& config) {
  const auto zone = LocalZone::find(config.site.time_zone);
  if (!zone) {
    return zone.error();
  }
  return record::Origin{.shop = config.site.name,
                        .version = version,
                        .zone = *zone,
                        .us_words = config.site.dialect == Dialect::us,
                        .fahrenheit = config.site.temperature == TemperatureScale::fahrenheit,
                        .time_from_messages = config.clock == ClockSource::messages,
                        .look_ahead = compute::answer};
}

namespace {

// Problem: the database, or no such vehicle.
Result<record::Record> gather(const Config& config, VehicleId vehicle) {
  const auto origin = origin_of(config);
  if (!origin) {
    return origin.error();
  }
  const auto reader = store::Reader::open(config.store.path);
  if (!reader) {
    return reader.error();
  }
  return record::gather(reader.value(), vehicle, origin.value());
}

}  // namespace

http::HandedOverAnswer make_handed_over(const Config& config, Time now) {
  const auto reader = store::Reader::open(config.store.path);
  if (!reader) {
    return reader.error();
  }
  const auto dates = history::Dates::read(*reader, config.clock == ClockSource::messages);
  return dates ? record::handed_over(*reader, *dates, now) : http::HandedOverAnswer{dates.error()};
}

Result<VehicleSummary> make_past_vehicle(const Config& config, VehicleId vehicle) {
  auto gathered = gather(config, vehicle);
  if (!gathered) {
    return gathered.error();
  }
  VehicleSummary summary = gathered->at_end;
  summary.released = gathered->released;
  summary.pieces.clear();
  for (auto& piece : gathered->pieces) {
    summary.pieces.push_back(std::move(piece.summary));
    summary.pieces.back().early_steps = std::move(piece.early);
  }
  return summary;
}

http::RecordAnswer make_evidence(const Config& config, seal::Sealer* sealer,
                                 const http::RecordRequest& request) {
  auto gathered = gather(config, request.vehicle);
  if (!gathered) {
    return gathered.error();
  }
  record::Record& record = gathered.value();
  if (sealer != nullptr) {
    await_seal(*sealer, record.last_row);
    const auto folder = std::filesystem::absolute(config.store.path).parent_path() / "seal";
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
