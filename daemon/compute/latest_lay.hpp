// Until when may a planned piece be laid, for the vehicle to be ready at the agreed time?
#pragma once

#include <span>

#include "domain/outlook.hpp"

namespace dryclock::compute {

// The piece as it would be, laid with `spec` into `air` on a panel as warm as it.
[[nodiscard]] models::LaidPiece laid(models::LaidSpec spec, const models::Surroundings& air);

// `lay_by` is one of the half hours from now on: laid then, the piece may leave by `task.hand_over` with a
// probability of `task.announce_level` at least, over the courses of the air and what the shop may be (nodes
// of the piece's film), and `task.least_indoor` is kept; half an hour later one of them is not. Beyond the
// forecast's end its last day goes on. Later is taken never to help, though a piece laid into a warmer day
// may be ready a little sooner than one laid the evening before.
[[nodiscard]] PieceToLay latest_lay(const OutlookTask::ToLay& planned, const OutlookTask& task,
                                    const models::ShopLevels& levels,
                                    std::span<const models::ShopNode> nodes);

}  // namespace dryclock::compute
