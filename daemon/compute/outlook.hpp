// When will it be ready, and what is to be said of it now? Runs a vehicle's pieces through the forecast.
#pragma once

#include "domain/outlook.hpp"

namespace dryclock::compute {

// Times are from `task.now`; absent where a percentile is not reached within the forecast. Without a forecast
// only now is judged, and no time is told.
//   a piece     its chances, over what the shop may be and over the courses of the air by their weights;
//               `announces`: when it will be called ready or worth a look, whichever the judge (judge.hpp)
//               says next; hours_to_go until likely in the weightiest course
//   a vehicle   what the shop is and what the air becomes its pieces share: within each of both the product
//               over the pieces, then mixed. What the user saw clear counts as 1; what is planned is laid
//               now, with the usual water; never before `earliest_release`
// full_strength is the last piece's, in the weightiest course, whose last day goes on beyond the forecast.
[[nodiscard]] OutlookAnswer answer(const OutlookTask& task);

}  // namespace dryclock::compute
