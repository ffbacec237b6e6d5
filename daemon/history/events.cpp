#include "history/events.hpp"

#include <map>
#include <memory>

#include "engine/superseded.hpp"

namespace dryclock::history {

std::vector<RecordedEvent> events(std::vector<JournalRow> rows, const Dates& dates) {
  std::vector<RecordedEvent> out;
  std::map<Seq, VehicleId> owners;
  std::vector<engine::Correction> corrections;
  const auto owner = [&](Seq seq) {
    const auto found = owners.find(seq);
    return found == owners.end() ? VehicleId{0} : found->second;
  };
  for (JournalRow& row : rows) {
    auto said = ingest::decode(row, {}).event;
    if (!said) {
      continue;
    }
    row.parsed = std::make_shared<const Event>(*std::move(said));
    JournalRow dated = row;
    auto event = dates.decode(dated, {}, row.message.received_at).event;
    const auto vehicle = owners[row.seq] = vehicle_of(event->detail, row.seq, owner);
    if (const auto* correction = std::get_if<Superseded>(&event->detail)) {
      corrections.emplace_back(row.seq, correction->event);
    }
    const bool redated = row.message.received_at != dated.message.received_at;
    out.push_back({std::move(row), std::move(*event), vehicle, false, redated});
  }
  const auto superseded = engine::superseded_by(corrections);
  for (RecordedEvent& one : out) {
    one.superseded = superseded.contains(one.row.seq);
  }
  return out;
}

Result<std::vector<RecordedEvent>> events(const store::Reader& reader, const Dates& dates, Seq from) {
  auto rows = reader.rows_of(RowKind::event, from);
  return rows ? events(std::move(*rows), dates) : Result<std::vector<RecordedEvent>>{rows.error()};
}

}  // namespace dryclock::history
