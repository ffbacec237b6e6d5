#include "record/vehicle_events.hpp"

#include <algorithm>

#include "engine/superseded.hpp"
#include "ingest/decode.hpp"

namespace dryclock::record {
namespace {

bool speaks_of(const Event& event, VehicleId vehicle, const std::set<Seq>& own) {
  return std::visit(
      [&](const auto& detail) {
        using D = std::decay_t<decltype(detail)>;
        if constexpr (std::is_same_v<D, VehicleIn>) {
          return event.seq == vehicle;
        } else if constexpr (std::is_same_v<D, Superseded>) {
          return own.contains(detail.event);
        } else if constexpr (std::is_same_v<D, AlertAcknowledged> || is_standing<D>) {
          return false;
        } else if constexpr (requires { detail.vehicle; }) {
          return detail.vehicle == vehicle;
        } else {
          return own.contains(detail.piece);
        }
      },
      event.detail);
}

}  // namespace

std::vector<EventRow> events_of(const std::vector<JournalRow>& rows, VehicleId vehicle) {
  std::vector<EventRow> out;
  std::set<Seq> own;
  for (const auto& row : rows) {
    if (row.seq < vehicle) {
      continue;
    }
    if (const auto event = ingest::decode(row, {}).event; event && speaks_of(*event, vehicle, own)) {
      own.insert(row.seq);
      out.push_back({row, *event});
    }
  }
  std::vector<engine::Correction> corrections;
  for (const auto& one : out) {
    if (const auto* correction = std::get_if<Superseded>(&one.event.detail)) {
      corrections.emplace_back(one.row.seq, correction->event);
    }
  }
  const auto superseded = engine::superseded_by(corrections);
  for (auto& one : out) {
    one.superseded = superseded.contains(one.row.seq);
  }
  return out;
}

std::vector<JournalRow> shop_rows(const std::vector<JournalRow>& events,
                                  const std::vector<JournalRow>& settings) {
  std::vector<JournalRow> out;
  std::set<Seq> known;
  for (const auto& row : events) {
    const auto event = ingest::decode(row, {}).event;
    const auto* correction = event ? std::get_if<Superseded>(&event->detail) : nullptr;
    if (event && (stands(event->detail) || (correction != nullptr && known.contains(correction->event)))) {
      known.insert(row.seq);
      out.push_back(row);
    }
  }
  const auto middle = out.insert(out.end(), settings.begin(), settings.end());
  std::ranges::inplace_merge(out, middle, {}, &JournalRow::seq);
  return out;
}

const EventRow* release_in(const std::vector<EventRow>& events) {
  const EventRow* found = nullptr;
  for (const auto& one : events) {
    if (!one.superseded && std::holds_alternative<Released>(one.event.detail)) {
      found = &one;
    }
  }
  return found;
}

std::vector<Stay> stays_in(const std::vector<EventRow>& events, Time to) {
  std::vector<Stay> stays;
  for (const auto& one : events) {
    if (one.superseded) {
      continue;
    }
    if (const auto* in = std::get_if<VehicleIn>(&one.event.detail)) {
      stays.push_back({in->bay, one.event.at, to});
    } else if (const auto* moved = std::get_if<VehicleMoved>(&one.event.detail)) {
      stays.push_back({moved->bay, one.event.at, to});
    }
  }
  std::stable_sort(stays.begin(), stays.end(), [](const Stay& a, const Stay& b) { return a.from < b.from; });
  for (std::size_t i = 1; i < stays.size(); ++i) {
    stays[i - 1].to = stays[i].from;
  }
  return stays;
}

}  // namespace dryclock::record
