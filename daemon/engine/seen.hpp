// What was seen of a vehicle's pieces, and what of it counts for the belief about the shop.
#pragma once

#include <optional>
#include <vector>

#include "domain/learnt.hpp"
#include "engine/shop.hpp"

namespace dryclock::engine {

// What a piece's edge did after it was turned.
struct EdgeSign {
  Seq event = 0;  // the wrap, or the trim of a piece that was not wrapped
  Time at;
  models::Sign sign = models::Sign::held;
};
// Held: the vehicle has left and nothing has lifted since; lifted: somebody saw it lift, in the shop or at a
// recheck. Absent: it was not turned, has not left yet, was pulled, or lifts nobody said where.
[[nodiscard]] std::optional<EdgeSign> edge_sign(const VehiclePlan& plan, const PiecePlan& piece);

// Of the pieces that anything was seen of, in the order of laying; of none that nobody measured the air of
// for longer than `bridge_after` after it was laid, since it has drunk more than is known. A look whose
// minute is not integrated yet counts as one at what is known of the piece, where no more than `bridge_after`
// lies between.
[[nodiscard]] std::vector<LearntPiece> seen_of(const Vehicle& vehicle, const Shop& shop, Millis bridge_after);

// What counts of it now: nothing that was taken back, or seen before the shop began to learn anew; of an edge
// what is known of it today. Nothing of a piece that does not stand any more.
[[nodiscard]] models::PieceEvidence evidence_of(const LearntPiece& piece, const Shop& shop);

}  // namespace dryclock::engine
