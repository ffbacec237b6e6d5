#include "app/recheck_book.hpp"

#include <chrono>

#include "app/evidence.hpp"
#include "record/rechecks.hpp"
#include "store/reader.hpp"

namespace dryclock::app {

using namespace std::chrono_literals;

Result<RecheckReport> RecheckBook::report(const Config& config) {
  const std::lock_guard lock(mutex_);
  const auto until = std::chrono::steady_clock::now() + 5s;
  const auto origin = origin_of(config);
  const auto reader = store::Reader::open(config.store.path);
  if (!origin || !reader) {
    return !origin ? origin.error() : reader.error();
  }
  const auto events = reader.value().rows_of(RowKind::event);
  if (!events) {
    return events.error();
  }
  RecheckReport report;
  report.few_below = record::few_pieces;
  std::vector<RecheckedPiece> pieces;
  for (const auto& [vehicle, through] : record::rechecked_vehicles(events.value())) {
    ++report.vehicles;
    auto& known = known_[vehicle];
    if (known.through != through) {
      if (std::chrono::steady_clock::now() > until) {
        ++report.pending;
        continue;
      }
      auto found = record::rechecked_pieces(reader.value(), vehicle, origin.value());
      if (!found) {
        return found.error();
      }
      known = {through, std::move(found).value()};
    }
    pieces.insert(pieces.end(), known.pieces.begin(), known.pieces.end());
  }
  report.groups = record::grouped(pieces);
  return report;
}

}  // namespace dryclock::app
