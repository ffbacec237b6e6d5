#include "engine/bays.hpp"

namespace dryclock::engine {

void Bays::follow(const Setup& setup) {
  bridge_after_ = setup.bridge_after;
  for (auto& [name, air] : bays_) {
    air.bridge_after(bridge_after_);
  }
  for (const auto& bay : setup.bays) {
    bays_.try_emplace(bay.name, bay.name, setup.bridge_after);
    hours_[bay.name].heated(bay.heated);
  }
}

BayAir* Bays::find(const std::string& bay) {
  const auto found = bays_.find(bay);
  return found == bays_.end() ? nullptr : &found->second;
}

const BayAir* Bays::find(const std::string& bay) const {
  const auto found = bays_.find(bay);
  return found == bays_.end() ? nullptr : &found->second;
}

Bays::Found Bays::at(const std::string& bay, Time minute) const {
  const BayAir* air = find(bay);
  if (air == nullptr || !air->first()) {
    return {Known::none, nullptr};
  }
  const AirPoint* point = air->point(minute);
  return {point != nullptr ? Known::yes : minute > *air->frontier() ? Known::later : Known::none, point};
}

void Bays::know(const std::vector<AirHour>& hours) {
  for (const AirHour& hour : hours) {
    hours_[hour.bay].know(hour);
  }
}

void Bays::close_minutes(Time now, Time needed, Effects& effects) {
  for (auto& [name, air] : bays_) {
    air.close_minutes(now, effects.gaps);
    hours_[name].follow(air, name, effects.air_hours);
    air.forget_before(needed);
  }
}

std::vector<models::WeightedCourse> Bays::ahead(const std::string& bay, Time now, Millis ahead,
                                                Millis step) const {
  const auto hours = hours_.find(bay);
  const BayAir* air = find(bay);
  return air == nullptr || hours == hours_.end() ? std::vector<models::WeightedCourse>{}
                                                 : hours->second.ahead(*air, now, ahead, step);
}

std::optional<AirHours::Ahead> Bays::forecast(const std::string& bay, Time now, Millis ahead) const {
  const auto hours = hours_.find(bay);
  const BayAir* air = find(bay);
  return air == nullptr || hours == hours_.end() ? std::nullopt : hours->second.forecast(*air, now, ahead);
}

void Bays::clock_stepped() {
  for (auto& [name, air] : bays_) {
    air.clock_stepped();
  }
}

}  // namespace dryclock::engine
