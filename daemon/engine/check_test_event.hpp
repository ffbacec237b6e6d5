// Whether an event of a test beside a bay's sensor can be: a coupon, strips that are pulled off, a witness
// plate. See check_event.hpp.
#pragma once

#include <type_traits>
#include <vector>

#include "domain/refusal.hpp"
#include "domain/setup.hpp"
#include "engine/shop.hpp"

namespace dryclock::engine {

template <class Detail>
inline constexpr bool is_test_event_kind =
    std::is_same_v<Detail, CouponLaid> || std::is_same_v<Detail, CouponWeighed> ||
    std::is_same_v<Detail, FilmMeasured> || std::is_same_v<Detail, PlateLaid> ||
    std::is_same_v<Detail, PlateSeen> || std::is_same_v<Detail, BondCouponLaid> ||
    std::is_same_v<Detail, BondCouponPulled> || std::is_same_v<Detail, BondMeasured>;

[[nodiscard]] Allowed check_test_event(const Event& event, const Shop& shop,
                                       const std::vector<BaySetup>& bays);

}  // namespace dryclock::engine
