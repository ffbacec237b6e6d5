// The invented shop's sensors: one of the configuration file, and what a search of its broker finds.
#pragma once

#include <vector>

#include "base/clock.hpp"
#include "http/services.hpp"

namespace dryclock::fake {

class Sensors {
 public:
  explicit Sensors(const Clock& clock);

  // Events about sensors and coupons; others do nothing.
  void apply(const Event& event);
  void add_services(http::Services& services);

 private:
  const Clock& clock_;
  std::vector<SensorView> sensors_;
  std::vector<CouponView> coupons_;
  std::vector<MeasuredFilm> measured_;
  SensorSearch search_;
};

}  // namespace dryclock::fake
