// Hands out look-aheads and keeps the newest answers. A forecast is shown, and may raise an alert; it never
// enters a state.
#pragma once

#include <map>
#include <vector>

#include "domain/outlook.hpp"
#include "domain/setup.hpp"
#include "engine/bays.hpp"
#include "engine/shop.hpp"

namespace dryclock::engine {

class OutlookCache {
 public:
  // Tasks of open vehicles that are due at `now`; marks them as handed out.
  [[nodiscard]] std::vector<OutlookTask> due(const Shop& shop, const Bays& bays, Time now);
  // An answer to an older revision of its vehicle is dropped.
  void apply(const OutlookAnswer& answer, const Shop& shop);
  [[nodiscard]] const OutlookAnswer* answer(VehicleId vehicle) const;

 private:
  struct HandedOut {
    Seq revision = 0;
    Time at;
  };
  std::map<VehicleId, HandedOut> handed_out_;
  std::map<VehicleId, OutlookAnswer> answers_;
};

// The vehicle as it would be at `now` if the air had stayed since its last reading; held for `bridge_after`
// at most, for after that nobody knows.
[[nodiscard]] VehicleTrack held_until(const Vehicle& vehicle, const Bays& bays, Time now);

}  // namespace dryclock::engine
