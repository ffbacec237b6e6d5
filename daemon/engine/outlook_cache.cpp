#include "engine/outlook_cache.hpp"

namespace dryclock::engine {
namespace {

constexpr Millis renewed_every = std::chrono::minutes{10};

}  // namespace

bool OutlookCache::is_due(const Vehicle& vehicle, const Known& known, Time now) const {
  const auto last = handed_out_.find(vehicle.plan.id);
  if (last == handed_out_.end()) {
    return true;
  }
  const auto& [revision, at, belief] = last->second;
  const auto* newest = answer(vehicle.plan.id);
  const bool asked =
      newest != nullptr && newest->ask_again && at < *newest->ask_again && *newest->ask_again <= now;
  return revision != vehicle.revision || now - at >= renewed_every || belief != known.belief || asked;
}

std::vector<OutlookTask> OutlookCache::due(const Known& known, Time now) {
  std::vector<OutlookTask> tasks;
  for (const auto& [id, vehicle] : known.shop.vehicles()) {
    if (!Shop::is_open(vehicle) || !is_due(vehicle, known, now)) {
      continue;
    }
    if (auto task = outlook_task(vehicle, known, now)) {
      handed_out_[id] = {vehicle.revision, now, known.belief};
      tasks.push_back(std::move(*task));
    } else {
      answers_.erase(id);
    }
  }
  return tasks;
}

bool OutlookCache::apply(const OutlookAnswer& answer, const Shop& shop) {
  const auto* vehicle = shop.vehicle(answer.vehicle);
  if (vehicle == nullptr || vehicle->revision != answer.revision) {
    return false;
  }
  answers_[answer.vehicle] = answer;
  return true;
}

const OutlookAnswer* OutlookCache::answer(VehicleId vehicle) const {
  const auto found = answers_.find(vehicle);
  return found == answers_.end() ? nullptr : &found->second;
}

}  // namespace dryclock::engine
