// One piece through one course of the air.
#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <vector>

#include "compute/chances.hpp"
#include "models/laid_piece.hpp"
#include "models/piece_reach.hpp"

namespace dryclock::compute {

class PieceAhead {
 public:
  // `air` every step of `moments` from now on; empty: the piece as it is now. `moments` must outlive this.
  PieceAhead(models::LaidPiece piece, std::span<const models::Surroundings> air, const Moments& moments,
             const models::Thresholds& thresholds, const models::ShopLevels& levels);
  PieceAhead(const PieceAhead&) = delete;
  PieceAhead& operator=(const PieceAhead&) = delete;

  // The chance to be there at each moment, for each node. It is worked out at no more moments than it takes
  // to follow it, and between those by a monotone cubic.
  [[nodiscard]] Chances chances(models::Milestone which, std::span<const models::ShopNode> nodes);
  // At one moment.
  [[nodiscard]] double chance(models::Milestone which, std::size_t moment,
                              std::span<const models::ShopNode> nodes);

  [[nodiscard]] const models::LaidPiece& piece() const { return piece_; }  // at the last moment
  [[nodiscard]] models::PieceReach& reach() { return *reach_; }
  [[nodiscard]] std::size_t point(std::size_t moment) const { return points_[moment]; }  // of the traces
  // Standard hours that the air delivers until so many seconds from now.
  [[nodiscard]] double standard_hours(double seconds) const;

 private:
  void advance(std::span<const models::Surroundings> air);
  [[nodiscard]] Knot knot(models::Milestone which, std::size_t moment,
                          std::span<const models::ShopNode> nodes);
  [[nodiscard]] std::size_t between(std::size_t moment, std::size_t later) const;

  const Moments* moments_;
  double age_;                               // s, now
  std::vector<std::size_t> points_;          // by moment
  std::vector<double> standard_hours_{0.0};  // likewise
  models::LaidPiece piece_;
  std::optional<models::PieceReach> reach_;  // of the piece as it was advanced
};

}  // namespace dryclock::compute
