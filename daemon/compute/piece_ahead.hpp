// One piece through the air ahead.
#pragma once

#include <cstddef>
#include <span>
#include <vector>

#include "compute/air_ahead.hpp"
#include "compute/chances.hpp"
#include "models/laid_piece.hpp"
#include "models/piece_reach.hpp"

namespace dryclock::compute {

// A piece as it is now.
struct PieceNow {
  PieceNow(const models::LaidPiece& laid, const models::Thresholds& thresholds,
           const models::ShopLevels& levels)
      : piece(laid), point(laid.trace(0).size() - 1), reach(laid, thresholds, levels) {}
  const models::LaidPiece& piece;
  std::size_t point;  // of its traces
  models::PieceReach reach;
};

class PieceAhead {
 public:
  // `now` and `air` must outlive this.
  PieceAhead(PieceNow& now, const AirAhead& air, const models::Thresholds& thresholds,
             const models::ShopLevels& levels);
  PieceAhead(const PieceAhead&) = delete;
  PieceAhead& operator=(const PieceAhead&) = delete;

  // The chance to be there at each moment of air.gone_through(), over all nodes. It is worked out at no more
  // moments than it takes to follow it, and between those by a monotone cubic.
  [[nodiscard]] Curve curve(models::Milestone which, std::span<const models::ShopNode> nodes);
  // The same for each node, which pieces that wait for each other take.
  [[nodiscard]] Chances chances(models::Milestone which, std::span<const models::ShopNode> nodes);

  [[nodiscard]] const models::LaidPiece& piece() const { return piece_; }  // at the last moment
  // Standard hours that the air delivers until so many seconds from now.
  [[nodiscard]] double standard_hours(double seconds) const;

 private:
  void advance(std::span<const models::Surroundings> air);
  [[nodiscard]] Knot knot(models::Milestone which, std::size_t moment,
                          std::span<const models::ShopNode> nodes);
  // As many as it takes.
  [[nodiscard]] std::vector<Knot> knots(models::Milestone which, std::span<const models::ShopNode> nodes);
  [[nodiscard]] std::size_t between(std::size_t moment, std::size_t later) const;

  PieceNow* now_;
  const Moments* moments_;
  std::vector<std::size_t> points_;          // of the traces, by moment
  std::vector<double> standard_hours_{0.0};  // by moment
  std::vector<double> clock_;                // by moment, as the chances count time
  models::LaidPiece piece_;
  models::PieceReach reach_;  // of the piece as it was advanced
};

}  // namespace dryclock::compute
