// The air beside a coupon: what is known of it without a hole.
#pragma once

#include "domain/fact.hpp"
#include "engine/bay_air.hpp"

namespace dryclock::engine {

// The newest minutes without a hole; null: there are none.
[[nodiscard]] const BayAir::Stretch* newest_stretch(const BayAir* air);

// Why a coupon cannot be evaluated that needs the air from `first` on.
[[nodiscard]] Fact missing_air(const std::string& bay, const BayAir* air, Time first);

}  // namespace dryclock::engine
