#include "engine/bays.hpp"

#include <algorithm>

namespace dryclock::engine {

Bays::Bays(const Setup& setup) : bridge_after_(setup.bridge_after) {
  const auto measures = [&](const std::string& bay, Quantity q) {
    return std::any_of(setup.mappings.begin(), setup.mappings.end(),
                       [&](const auto& m) { return m.bay == bay && m.quantity == q; });
  };
  for (const auto& mapping : setup.mappings) {
    if (measures(mapping.bay, Quantity::air_temperature) &&
        measures(mapping.bay, Quantity::relative_humidity)) {
      bays_.try_emplace(mapping.bay, mapping.bay, setup.bridge_after);
    }
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
  if (air == nullptr || !air->first() || minute < *air->first()) {
    return {Known::none, nullptr};
  }
  const AirPoint* point = air->point(minute);
  return {point == nullptr ? Known::later : Known::yes, point};
}

}  // namespace dryclock::engine
