#include "engine/bays.hpp"

namespace dryclock::engine {

void Bays::follow(const Setup& setup) {
  bridge_after_ = setup.bridge_after;
  for (auto& [name, air] : bays_) {
    air.bridge_after(bridge_after_);
  }
  for (const auto& bay : setup.bays) {
    bays_.try_emplace(bay.name, bay.name, setup.bridge_after);
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

void Bays::clock_stepped() {
  for (auto& [name, air] : bays_) {
    air.clock_stepped();
  }
}

}  // namespace dryclock::engine
