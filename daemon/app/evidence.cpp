#include "app/evidence.hpp"

#include <chrono>
#include <filesystem>
#include <thread>

#include "base/local_time.hpp"
#include "base/version.hpp"
#include "compute/outlook.hpp"
#include "record/export.hpp"
#include "record/gather.hpp"
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

http::RecordAnswer make_evidence(const Config& config, seal::Sealer* sealer,
                                 const http::RecordRequest& request) {
  const auto zone = LocalZone::find(config.site.time_zone);
  if (!zone) {
    return zone.error();
  }
  const auto reader = store::Reader::open(config.store.path);
  if (!reader) {
    return reader.error();
  }
  auto gathered = record::gather(*reader, config.setup, request.vehicle,
                                 {.shop = config.site.name,
                                  .version = version,
                                  .zone = *zone,
                                  .us_words = config.site.dialect == Dialect::us,
                                  .fahrenheit = config.site.temperature == TemperatureScale::fahrenheit,
                                  .time_from_messages = config.clock == ClockSource::messages,
                                  .look_ahead = compute::answer});
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
