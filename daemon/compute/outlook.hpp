// When will it be ready? Runs a vehicle's pieces through the forecast.
#pragma once

#include "domain/outlook.hpp"

namespace dryclock::compute {

// Times are from `task.now`, between forecast steps by linear interpolation of the probability; absent where
// a percentile is not reached within the forecast. The courses of the air are mixed by their weights; within
// each, a vehicle is ready when every piece is: the pieces' members are drawn independently, so their
// probabilities multiply, and never before `earliest_release`.
[[nodiscard]] OutlookAnswer answer(const OutlookTask& task);

}  // namespace dryclock::compute
