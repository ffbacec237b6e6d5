#include "engine/coupon_air.hpp"

#include <optional>

#include "domain/sensor_view.hpp"

namespace dryclock::engine {

const BayAir::Stretch* newest_stretch(const BayAir* air) {
  return air == nullptr || air->stretches().empty() ? nullptr : &air->stretches().back();
}

Fact missing_air(const std::string& bay, const BayAir* air, Time first) {
  const auto of_bay = [&](const char* key, std::optional<Millis> length = {}) -> Fact {
    Fact out{key, {say::text("bay", bay)}};
    if (length) {
      out.values.push_back(
          say::count("days", std::chrono::duration_cast<std::chrono::days>(*length).count()));
    }
    return out;
  };
  const auto* newest = newest_stretch(air);
  if (newest == nullptr) {
    return of_bay("coupons.air-unknown");
  }
  if (newest->front().at > first && *air->first() <= first) {
    return of_bay("coupons.air-hole", longest_bridge);
  }
  return *air->first() > first ? of_bay("coupons.air-before", longest_coupon) : of_bay("coupons.air-silent");
}

}  // namespace dryclock::engine
