#include "engine/outlook_desk.hpp"

#include <algorithm>
#include <cmath>

#include "engine/minutes.hpp"

namespace dryclock::engine {
namespace {

constexpr Millis renewed_every = std::chrono::minutes{10};
constexpr Millis looks_ahead = std::chrono::hours{72};
constexpr Millis forecast_step = std::chrono::minutes{5};

// The bay's air every forecast_step from now on; empty where nobody measures.
std::vector<models::Surroundings> forecast(const BayAir* bay) {
  if (bay == nullptr || bay->points().empty()) {
    return {};
  }
  const AirPoint& last = bay->points().back();
  models::Surroundings held;
  held.air = models::Celsius{last.air_c};
  held.humidity = models::Humidity{last.rh_pct / 100.0};
  return std::vector<models::Surroundings>(static_cast<std::size_t>(looks_ahead / forecast_step) + 1, held);
}

// When the least time indoors will have been kept, if the vehicle stays where it is.
Time earliest_release(const VehiclePlan& plan, Millis least_indoor, Time now) {
  const Time last = plan.last_laid.value_or(plan.from);
  return std::max(now, now + least_indoor - indoors(plan, last, now));
}

}  // namespace

VehicleTrack held_until(const Vehicle& vehicle, const Shop& shop, const Bays& bays, Time now) {
  VehicleTrack copy = vehicle.track;
  const Time from = copy.integrated().value_or(vehicle.plan.from);
  const Time until = std::min(ceil_minute(now), from + bays.bridge_after());
  copy.fold(vehicle.plan, bays, shop.rules(), until, VehicleTrack::Beyond::hold);
  return copy;
}

std::vector<OutlookTask> OutlookDesk::due(const Shop& shop, const Bays& bays, Time now) {
  std::vector<OutlookTask> tasks;
  for (const auto& [id, vehicle] : shop.vehicles()) {
    if (!Shop::is_open(vehicle)) {
      continue;
    }
    const auto last = handed_out_.find(id);
    if (last != handed_out_.end() && last->second.revision == vehicle.revision &&
        now - last->second.at < renewed_every) {
      continue;
    }
    OutlookTask task;
    task.forecast = forecast(bays.find(vehicle.plan.bay_now()));
    const auto track = held_until(vehicle, shop, bays, now);
    for (const auto& piece : vehicle.plan.pieces) {
      const auto* at_now = track.piece(piece.id);
      if (!piece.ended && at_now != nullptr && at_now->piece) {
        task.pieces.push_back({piece.id, *at_now->piece});
      }
    }
    if (task.forecast.empty() || task.pieces.empty()) {
      continue;
    }
    task.vehicle = id;
    task.now = now;
    task.revision = vehicle.revision;
    task.step = models::Seconds{std::chrono::duration<double>(forecast_step).count()};
    task.earliest_release = earliest_release(vehicle.plan, shop.rules().least_indoor, now);
    task.release_bond = shop.rules().thresholds.release_bond;
    task.hand_over = vehicle.plan.hand_over;
    handed_out_[id] = {vehicle.revision, now};
    tasks.push_back(std::move(task));
  }
  return tasks;
}

void OutlookDesk::take(const OutlookAnswer& answer, const Shop& shop) {
  const auto* vehicle = shop.vehicle(answer.vehicle);
  if (vehicle != nullptr && vehicle->revision == answer.revision) {
    answers_[answer.vehicle] = answer;
  }
}

const OutlookAnswer* OutlookDesk::answer(VehicleId vehicle) const {
  const auto found = answers_.find(vehicle);
  return found == answers_.end() ? nullptr : &found->second;
}

}  // namespace dryclock::engine
