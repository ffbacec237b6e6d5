#include "history/journal.hpp"

#include <algorithm>

namespace dryclock::history {

Result<Journal> Journal::read(const store::Reader& reader, bool by_messages) {
  auto dates = Dates::read(reader, by_messages);
  if (!dates) {
    return dates.error();
  }
  auto recorded = history::events(reader, *dates);
  auto settings = reader.rows_of(RowKind::configured);
  auto learnt = reader.rows_of(RowKind::learnt);
  const auto extent = dates->extent(reader);
  if (!recorded || !settings || !learnt || !extent) {
    return !recorded   ? recorded.error()
           : !settings ? settings.error()
           : !learnt   ? learnt.error()
                       : extent.error();
  }
  Journal out{
      std::move(*dates), std::move(*recorded), std::move(*settings), std::move(*learnt), nullptr, *extent};
  if (!out.settings.empty()) {
    const auto first = ingest::decode(out.settings.front(), {}).configured;
    out.assumed = first && first->assumed ? first : nullptr;
  }
  return out;
}

void Journal::recall(JournalRow& row) const {
  const auto seq_of = [](const RecordedEvent& one) { return one.row.seq; };
  const auto found = std::ranges::lower_bound(events, row.seq, {}, seq_of);
  if (found != events.end() && found->row.seq == row.seq) {
    row.parsed = found->row.parsed;
  }
}

std::vector<JournalRow> Journal::before(Seq window,
                                        const std::function<bool(const RecordedEvent&)>& wanted) const {
  std::vector<JournalRow> out;
  for (const RecordedEvent& one : events) {
    if (one.row.seq < window && wanted(one)) {
      out.push_back(one.row);
    }
  }
  for (const auto* rows : {&settings, &learnt}) {
    const auto middle =
        out.insert(out.end(), rows->begin(), std::ranges::lower_bound(*rows, window, {}, &JournalRow::seq));
    std::ranges::inplace_merge(out, middle, {}, &JournalRow::seq);
  }
  return out;
}

bool of_the_shop(const RecordedEvent& one) {
  return one.vehicle == 0 && !std::holds_alternative<AlertAcknowledged>(one.event.detail);
}

}  // namespace dryclock::history
