// Strips of film that are pulled off one by one beside a bay's sensor, and what they show of the bond. A
// function of the events that stand.
#pragma once

#include <map>
#include <optional>
#include <vector>

#include "domain/sensor_view.hpp"
#include "engine/bays.hpp"

namespace dryclock::engine {

class BondCouponRegistry {
 public:
  // From the events that concern the shop and stand, in journal order.
  void rebuild(const std::vector<Event>& standing);

  // From when on air is needed for a coupon that is still being pulled at `now`; absent: there is none.
  [[nodiscard]] std::optional<Time> oldest_needed(Time now) const;

  [[nodiscard]] std::vector<BondCouponView> coupons(const Bays& bays) const;

 private:
  std::map<Seq, BondCouponView> coupons_;
};

}  // namespace dryclock::engine
