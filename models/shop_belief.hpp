// What a shop has shown of its film, its hands and its eyes: by Bayes' rule, from looks at pieces.
//
// A lattice over what all pieces share: the deviation of the hands' water, the eye, how much the pieces have
// in common (sharings), how the water lies (shop_worlds), and for each film the deviation of its
// resistance. What is a piece's or a zone's own is integrated out. Films know of each other through the hands
// alone.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <map>
#include <span>
#include <string>
#include <vector>

#include "models/inspection.hpp"
#include "models/laid_piece.hpp"
#include "models/shop_levels.hpp"

namespace dryclock::models {

// What was seen at one zone of a piece, so long after lay.
struct Look {
  std::size_t zone = 0;
  double seconds = 0.0;
  Finding finding = Finding::wet;
};

// Evenly spaced deviations of logarithms.
struct Deviations {
  double first = -1.2, step = 0.2;
  std::size_t count = 13;
  [[nodiscard]] double operator[](std::size_t i) const { return first + step * static_cast<double>(i); }
};
inline constexpr Deviations film_lattice{}, hand_lattice{-1.6, 0.2, 17};

// How likely what was seen at one piece is, at every node of the lattice of one film.
class PieceLikelihood {
 public:
  // `looks` in order of time; within ten minutes a zone's later one replaces the earlier, and those that
  // are left share much of their error: one pair of eyes at one zone. `levels`: of the piece's film.
  PieceLikelihood(const LaidPiece& piece, const std::vector<Look>& looks, const ShopLevels& levels);
  [[nodiscard]] const std::vector<double>& nodes() const { return nodes_; }

 private:
  std::vector<double> nodes_;
};

class ShopBelief {
 public:
  explicit ShopBelief(const ShopLevels& levels) : levels_(levels) {}

  // A coupon speaks of how water lies or films bond, wherever: how likely what it showed is in each of
  // shop_worlds(). Says nothing where there are not so many, or none is positive.
  void weigh_worlds(std::span<const double> likelihoods);

  // A coupon has measured the film: ln of its resistance is known within this standard deviation.
  void set_spread(const std::string& film, double ln_sd) { spreads_[film] = ln_sd; }
  // `likelihood` as PieceLikelihood::nodes(). One that is nowhere positive says nothing.
  void learn(const std::string& film, const std::vector<double>& likelihood);

  // With what is known of the film.
  [[nodiscard]] ShopLevels levels(const std::string& film) const;

  // What the shop may be for a piece of this film. Weights sum to 1. There are as many for every film, in the
  // same order of worlds and, in each, from fast to slow: node i of one film and node i of another are the
  // same share of the same world. Whoever pairs them by that takes the films' own deviations to go together.
  // Pieces of several films are then all there at once a little more often than if each film went its own
  // way: an error to the early side, by that part alone. Their hands and worlds do go together.
  [[nodiscard]] std::vector<ShopNode> nodes(const std::string& film) const;

 private:
  [[nodiscard]] std::vector<double> shared_weights(const std::string& without) const;

  ShopLevels levels_;
  std::vector<double> worlds_;  // likelihoods, the greatest 1; empty: no coupon has spoken
  std::map<std::string, double> spreads_;
  std::map<std::string, std::vector<double>> films_;  // products of likelihoods
};

}  // namespace dryclock::models
