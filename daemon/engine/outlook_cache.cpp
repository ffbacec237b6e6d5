#include "engine/outlook_cache.hpp"

#include <algorithm>
#include <limits>
#include <utility>

#include "engine/minutes.hpp"
#include "engine/piece_spec.hpp"
#include "models/outlook.hpp"

namespace dryclock::engine {
namespace {

constexpr Millis renewed_every = std::chrono::minutes{10};
constexpr Millis looks_ahead = std::chrono::hours{72};
constexpr Millis history_step = std::chrono::minutes{30};
constexpr Millis forecast_step = std::chrono::minutes{5};

// The bay's air every forecast_step from its last known minute on, as likely and shifted to both sides; empty
// where nobody measures. What was only bridged is no measurement to learn from.
std::vector<OutlookTask::Course> forecast(const BayAir* bay) {
  if (bay == nullptr || bay->stretches().empty()) {
    return {};
  }
  const auto& points = bay->stretches().back();  // what lies before a hole is too old to learn from
  constexpr double none = std::numeric_limits<double>::quiet_NaN();
  const auto every = static_cast<std::size_t>(history_step / minute);
  std::vector<models::Surroundings> history;
  for (std::size_t i = (points.size() - 1) % every; i < points.size(); i += every) {
    const AirPoint& point = points[i];
    models::Surroundings air;
    air.air = models::Celsius{point.bridged ? none : point.air_c};
    air.humidity = models::Humidity{point.bridged ? none : point.rh_pct / 100.0};
    history.push_back(air);
  }
  const auto seconds = [](Millis span) {
    return models::Seconds{std::chrono::duration<double>(span).count()};
  };
  const auto outlook =
      models::outlook(history, seconds(history_step), seconds(looks_ahead), seconds(forecast_step));
  if (outlook.likely.empty()) {
    return {};
  }
  std::vector<OutlookTask::Course> forecast;
  for (auto& course : models::courses(outlook)) {
    forecast.push_back({course.weight, std::move(course.air)});
  }
  return forecast;
}

// What is still to lay, with the film and the solution that were last laid on the vehicle.
std::vector<OutlookTask::ToLay> to_lay(const VehiclePlan& plan, const Shop& shop, Time now) {
  Lay lay;
  if (!plan.pieces.empty()) {
    lay = plan.pieces.back().lay;
    lay.zones.clear();
    lay.wetness = models::Wetness::usual;
  }
  std::vector<OutlookTask::ToLay> out;
  for (const PlannedPiece& piece : plan.to_lay()) {
    lay.panel = piece.panel;
    lay.part = piece.part;
    lay.parts = piece.parts;
    // No number yet to draw its members by: any two unlike ones will do.
    const auto stand_in = -static_cast<PieceId>(out.size()) - 1;
    out.push_back({piece, piece_spec(stand_in, lay, now, shop.catalogue(), shop.measures())});
  }
  return out;
}

// When the least time indoors will have been kept, if the vehicle stays where it is.
Time earliest_release(const VehiclePlan& plan, Millis least_indoor, Time now) {
  if (!plan.to_lay().empty()) {
    return now + least_indoor;
  }
  const Time last = plan.last_laid.value_or(plan.from);
  return std::max(now, now + least_indoor - indoors(plan, last, now));
}

}  // namespace

VehicleTrack held_until(const Vehicle& vehicle, const Bays& bays, Time now) {
  VehicleTrack copy = vehicle.track;
  const Time from = copy.integrated().value_or(vehicle.plan.from);
  const Time until = std::min(ceil_minute(now), from + bays.bridge_after());
  copy.integrate(vehicle.plan, bays, vehicle.terms->rules, until, VehicleTrack::Beyond::hold);
  return copy;
}

std::vector<OutlookTask> OutlookCache::due(const Shop& shop, const Bays& bays, Time now) {
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
    const auto track = held_until(vehicle, bays, now);
    for (const auto& piece : vehicle.plan.pieces) {
      const auto* at_now = track.piece(piece.id);
      if (!piece.ended && at_now != nullptr && at_now->piece) {
        task.pieces.push_back({piece.id, *at_now->piece});
      }
    }
    task.to_lay = to_lay(vehicle.plan, shop, now);
    if (task.forecast.empty() || (task.pieces.empty() && task.to_lay.empty())) {
      continue;
    }
    task.vehicle = id;
    task.now = now;
    task.revision = vehicle.revision;
    task.step = models::Seconds{std::chrono::duration<double>(forecast_step).count()};
    task.earliest_release = earliest_release(vehicle.plan, vehicle.terms->rules.least_indoor, now);
    task.thresholds = vehicle.terms->rules.thresholds;
    task.least_indoor = vehicle.terms->rules.least_indoor;
    task.announce_level = vehicle.terms->rules.announce_level;
    task.hand_over = vehicle.plan.hand_over;
    handed_out_[id] = {vehicle.revision, now};
    tasks.push_back(std::move(task));
  }
  return tasks;
}

void OutlookCache::apply(const OutlookAnswer& answer, const Shop& shop) {
  const auto* vehicle = shop.vehicle(answer.vehicle);
  if (vehicle != nullptr && vehicle->revision == answer.revision) {
    answers_[answer.vehicle] = answer;
  }
}

const OutlookAnswer* OutlookCache::answer(VehicleId vehicle) const {
  const auto found = answers_.find(vehicle);
  return found == answers_.end() ? nullptr : &found->second;
}

}  // namespace dryclock::engine
