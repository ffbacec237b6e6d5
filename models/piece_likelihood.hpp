// How likely what was seen at one piece is, whatever the shop may be.
#pragma once

#include <cstddef>
#include <vector>

#include "models/evidence.hpp"
#include "models/shop_levels.hpp"

namespace dryclock::models {

// Evenly spaced deviations of logarithms.
struct Deviations {
  double first = -1.2, step = 0.2;
  std::size_t count = 13;
  [[nodiscard]] double operator[](std::size_t i) const { return first + step * static_cast<double>(i); }
};
// What all pieces share is a lattice: a film's deviation, the hands', the eye's, how much pieces have in
// common, how water lies; the last running fastest. All but the film are shared by all films.
inline constexpr Deviations film_lattice{}, hand_lattice{-1.6, 0.2, 17};
inline constexpr std::size_t eye_nodes = three_deviates.size(), sharing_nodes = sharings.size();
[[nodiscard]] std::size_t world_nodes();
[[nodiscard]] std::size_t shared_nodes();

// At every node of the lattice of one film.
class PieceLikelihood {
 public:
  // What the eye saw of one zone, time after time, shares much of its error: one pair of eyes at one zone.
  // `levels`: of the piece's film.
  PieceLikelihood(const PieceEvidence& evidence, const ShopLevels& levels);
  [[nodiscard]] const std::vector<double>& nodes() const { return nodes_; }

 private:
  std::vector<double> nodes_;
};

}  // namespace dryclock::models
