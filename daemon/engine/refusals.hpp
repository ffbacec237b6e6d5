// Refusals that events of vehicles and events of sensors share.
#pragma once

#include <string>
#include <vector>

#include "domain/refusal.hpp"
#include "domain/setup.hpp"

namespace dryclock::engine {

// A name that somebody gave, or a key: for lists of what there is.
[[nodiscard]] Fact name_fact(const std::string& name);

// Whether there is such a bay; `outdoors`: `outside` counts as one.
[[nodiscard]] Allowed known_bay(const std::vector<BaySetup>& bays, const std::string& name, bool outdoors);

}  // namespace dryclock::engine
