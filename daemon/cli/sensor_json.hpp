// The daemon's answers about sensors, searches and coupons, read back. As cli/view_json.hpp: what is missing
// or of another kind throws std::runtime_error.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "domain/sensor_search.hpp"
#include "domain/sensor_view.hpp"

namespace dryclock::cli {

struct SensorList {
  Time now;
  std::vector<SensorView> sensors;
};

[[nodiscard]] SensorList parse_sensors(std::string_view json);
[[nodiscard]] SensorSearch parse_search(std::string_view json);
[[nodiscard]] std::vector<CouponView> parse_coupons(std::string_view json);

}  // namespace dryclock::cli
