// A vehicle as the question "when will it be ready?" sees it: copies of all that the answer needs.
#pragma once

#include <memory>
#include <optional>
#include <set>
#include <string>

#include "domain/outlook.hpp"
#include "engine/bays.hpp"
#include "engine/calls.hpp"
#include "engine/shop.hpp"

namespace dryclock::engine {

// So far it looks.
inline constexpr Millis looks_ahead = std::chrono::hours{72};

// What is known beside the vehicle.
struct Known {
  const Shop& shop;
  const Bays& bays;
  const Calls& calls;
  std::shared_ptr<const models::ShopBelief> belief;
  std::set<std::string> films;
};

// The vehicle as it would be at `now` if the air had stayed since its last reading, held for the bays'
// bridge_after at most, for after that nobody knows. Absent where nothing of it could be ready: no film that
// air is known for, and none to lay.
[[nodiscard]] std::optional<OutlookTask> outlook_task(const Vehicle& vehicle, const Known& known, Time now);

}  // namespace dryclock::engine
