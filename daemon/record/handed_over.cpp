#include "record/handed_over.hpp"

#include <algorithm>
#include <chrono>
#include <map>
#include <set>

#include "history/events.hpp"

namespace dryclock::record {
namespace {

using std::chrono::hours;

constexpr hours listed{60 * 24};
constexpr hours longest_stay{90 * 24};

// Walks the events that stand, and keeps what the list shows of each vehicle.
class Departures {
 public:
  void apply(const Event& event) {
    std::visit([&](const auto& detail) { add(event, detail); }, event.detail);
  }
  [[nodiscard]] std::vector<HandedOver> released_after(Time t) && {
    std::vector<HandedOver> out;
    for (auto& [id, vehicle] : vehicles_) {
      if (gone_.contains(id) && vehicle.released > t) {
        out.push_back(std::move(vehicle));
      }
    }
    std::ranges::stable_sort(out, std::ranges::greater{}, &HandedOver::released);
    return out;
  }

 private:
  void add(const Event& event, const VehicleIn& in) {
    vehicles_[event.seq].vehicle = event.seq;
    vehicles_[event.seq].reference = in.reference;
  }
  void add(const Event& event, const Lay& lay) {
    if (lay.replaces) {
      take_off(*lay.replaces);
    }
    if (auto* vehicle = find(lay.vehicle)) {
      for (const Beside& beside : lay.beside) {
        if (auto* piece = find_piece(beside.piece)) {
          stand_beside(*piece, beside, lay.parts);
        }
      }
      vehicle->pieces.push_back(
          {event.seq, lay.panel, lay.part, lay.parts, std::nullopt, std::nullopt, lay.side, lay.place});
      owner_[event.seq] = lay.vehicle;
    }
  }
  void add(const Event& /*event*/, const PieceRemoved& removed) { take_off(removed.piece); }
  void add(const Event& event, const Released& released) {
    if (auto* vehicle = find(released.vehicle)) {
      gone_.insert(released.vehicle);
      vehicle->released = event.at;
      vehicle->recheck_from = event.at + recheck_from;
      vehicle->recheck_until = event.at + recheck_until;
    }
  }
  void add(const Event& event, const Rechecked& rechecked) {
    if (auto* piece = find_piece(rechecked.piece)) {
      piece->rechecked = event.at;
      piece->finding = rechecked.finding;
    }
  }
  template <class Other>
  void add(const Event& /*event*/, const Other& /*detail*/) {}

  HandedOver* find(VehicleId id) {
    const auto found = vehicles_.find(id);
    return found == vehicles_.end() ? nullptr : &found->second;
  }
  HandedOver::Piece* find_piece(PieceId id) {
    const auto owner = owner_.find(id);
    if (owner == owner_.end()) {
      return nullptr;
    }
    auto& pieces = vehicles_[owner->second].pieces;
    const auto found = std::ranges::find(pieces, id, &HandedOver::Piece::id);
    return found == pieces.end() ? nullptr : &*found;
  }
  void take_off(PieceId id) {
    if (const auto owner = owner_.find(id); owner != owner_.end()) {
      std::erase_if(vehicles_[owner->second].pieces, [&](const auto& piece) { return piece.id == id; });
    }
  }

  std::map<VehicleId, HandedOver> vehicles_;
  std::map<PieceId, VehicleId> owner_;
  std::set<VehicleId> gone_;
};

}  // namespace

Result<std::vector<HandedOver>> handed_over(const store::Reader& reader, const history::Dates& dates,
                                            Time now) {
  const auto first = dates.first_at_or_after(reader, now - listed - longest_stay);
  if (!first) {
    return first.error();
  }
  auto events = history::events(reader, dates, *first);
  if (!events) {
    return events.error();
  }
  std::erase_if(*events, [](const history::RecordedEvent& one) { return one.superseded; });
  std::ranges::stable_sort(*events, {}, [](const history::RecordedEvent& one) { return one.event.at; });
  Departures departures;
  for (const auto& one : *events) {
    departures.apply(one.event);
  }
  return std::move(departures).released_after(now - listed);
}

}  // namespace dryclock::record
