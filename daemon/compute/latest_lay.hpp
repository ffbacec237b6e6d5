// Until when may a planned piece be laid, for the vehicle to be ready at the agreed time?
#pragma once

#include "domain/outlook.hpp"

namespace dryclock::compute {

// The piece as it would be, laid with `spec` into `air` on a panel as warm as it.
[[nodiscard]] models::Piece laid(models::PieceSpec spec, const models::Thresholds& thresholds,
                                 const models::Surroundings& air);

// `lay_by` is a time of the forecast's steps from now on: laid then, the piece is dry by `task.hand_over`
// with a probability of `task.announce_level` at least, over the courses of the air, and `task.least_indoor`
// is kept; a step later one of them is not. Beyond the forecast's end its last day goes on. Later is taken
// never to help, though a piece laid into a warmer day may dry a little sooner than one laid the evening
// before.
[[nodiscard]] PieceToLay latest_lay(const OutlookTask::ToLay& planned, const OutlookTask& task);

}  // namespace dryclock::compute
