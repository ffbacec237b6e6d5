// Pieces of the usual film in a bay that stays at 20 C and 50 %RH.
#pragma once

#include <vector>

#include "shop_truth.hpp"
#include "usual_film.hpp"

namespace drying_cases {

inline const std::vector<LaidZone> bonnet{shop_truth::zone(ZoneKind::field, 1.0),
                                          shop_truth::zone(ZoneKind::edge, 3.5)};

inline shop_truth::Bay steady(double hours) {
  return {baseline(), [](double) { return air(20.0, 0.5); }, hours};
}

}  // namespace drying_cases
