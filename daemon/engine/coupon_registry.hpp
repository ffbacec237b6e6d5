// Film plates that are weighed beside a bay's sensor, and what films have been measured to resist. A function
// of the events that stand.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "domain/sensor_view.hpp"
#include "engine/bays.hpp"

namespace dryclock::engine {

class CouponRegistry {
 public:
  // From the events that concern the shop and stand, in journal order.
  void rebuild(const std::vector<Event>& standing);

  // From when on air is needed for a coupon that is still being weighed at `now`; absent: there is none.
  [[nodiscard]] std::optional<Time> oldest_needed(Time now) const;

  [[nodiscard]] std::vector<CouponView> coupons(const Bays& bays, const Catalogue& catalogue) const;

 private:
  std::map<Seq, CouponView> coupons_;
};

}  // namespace dryclock::engine
