#include "record/vehicle_events.hpp"

#include <algorithm>

namespace dryclock::record {

std::vector<history::RecordedEvent> events_of(const std::vector<history::RecordedEvent>& all,
                                              VehicleId vehicle) {
  std::vector<history::RecordedEvent> out;
  std::ranges::copy_if(all, std::back_inserter(out),
                       [&](const history::RecordedEvent& one) { return one.vehicle == vehicle; });
  return out;
}

const history::RecordedEvent* release_in(const std::vector<history::RecordedEvent>& events) {
  const history::RecordedEvent* found = nullptr;
  for (const auto& one : events) {
    if (!one.superseded && std::holds_alternative<Released>(one.event.detail)) {
      found = &one;
    }
  }
  return found;
}

bool entered_late(const Event& event) {
  constexpr std::chrono::minutes at_once{2};
  return event.entered - event.at > at_once;
}

std::vector<Stay> stays_in(const std::vector<history::RecordedEvent>& events, Time to) {
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
