#include "engine/refusals.hpp"

#include "engine/vehicle_plan.hpp"

namespace dryclock::engine {

Fact name_fact(const std::string& name) {
  return {"refusals.name", {say::text("name", name)}};
}

Allowed known_bay(const std::vector<BaySetup>& bays, const std::string& name, bool outdoors) {
  if (outdoors && name == outside) {
    return {};
  }
  std::vector<Fact> known;
  if (outdoors) {
    known.push_back({"refusals.outside"});
  }
  for (const auto& bay : bays) {
    if (bay.gone) {
      continue;
    }
    if (bay.name == name) {
      return {};
    }
    known.push_back(name_fact(bay.name));
  }
  return Refusal{{"refusals.no-bay", {say::text("bay", name), say::facts("known", std::move(known))}},
                 "/bay"};
}

}  // namespace dryclock::engine
