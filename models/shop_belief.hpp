// What a shop has shown of its film, its hands and its eyes: by Bayes' rule, from looks at pieces.
//
// A lattice over what all pieces share: the deviation of the hands' water, the eye, how much the pieces have
// in common (sharings), how the water lies (shop_worlds), and for each film the deviation of its
// resistance. What is a piece's or a zone's own is integrated out. Films know of each other through the hands
// alone.
#pragma once

#include <map>
#include <span>
#include <string>
#include <vector>

#include "models/piece_likelihood.hpp"
#include "models/quantiles.hpp"
#include "models/shop_levels.hpp"

namespace dryclock::models {

// What is known of what all pieces share. Deviations of logarithms with their weights, which sum to 1.
struct ShopCommon {
  std::vector<Weighed> hand, eye;
  std::vector<double> sharing;  // the weight of each of `sharings`
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
  // By all that was seen, of whatever film.
  [[nodiscard]] ShopCommon common() const;

 private:
  [[nodiscard]] std::vector<double> shared_weights(const std::string* without) const;

  ShopLevels levels_;
  std::vector<double> worlds_;  // likelihoods, the greatest 1; empty: no coupon has spoken
  std::map<std::string, double> spreads_;
  std::map<std::string, std::vector<double>> films_;  // products of likelihoods
};

}  // namespace dryclock::models
