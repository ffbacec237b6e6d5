// The end of a coupon's drying: how its last water lay. A coupon that is weighed until nothing leaves it any
// more (coupon.hpp) loses its last quarter more and more slowly, since parts of it are dry by then; how
// slowly says how unlike the thicknesses are (water_spread.hpp) and below what they break up.
//
//   m(t) = m_dry + A (w(U(t)) + E S'(t) (1 - a) + C a)
// w the water left of the layer when the film has drunk U, S' the wet share as the film's moisture sees it
// (reach.hpp), E what the film holds over liquid above what it holds over none, C what it holds when
// saturated, a the activity of the air. Known are A, U for any resistance, and the air; found are m_dry, the
// resistance and the first water, each for itself in every way the water may lie.
#pragma once

#include <span>
#include <vector>

#include "models/catalogue.hpp"
#include "models/coupon.hpp"

namespace dryclock::models {

// How likely the weighings are where the water lies like that.
struct TailPoint {
  double spread = 0.0;    // standard deviation of ln thickness
  double break_up = 0.0;  // w_c, g/m2
  double likelihood = 1.0;
  bool operator==(const TailPoint&) const = default;
};

struct CouponTail {
  std::vector<TailPoint>
      points;  // those of shop_worlds(); the greatest likelihood is 1; empty: nothing is known
  // ln of the film's resistance against what the straight line gave, which is too much by what was dry before
  // the last quarter: the mean over the points, and its standard uncertainty beside the line's own.
  double ln_resistance = 0.0, resistance_sd = 0.0;
};

// Weighings in the last quarter without which the end has not been seen.
inline constexpr std::size_t least_tail_weighings = 3;

// `stack`: the film as the catalogue has it, for what it holds; `result`: what the same weighings gave for
// the resistance. Nothing is known where that has a problem, where the air does not begin with the film, and
// with fewer than least_tail_weighings.
[[nodiscard]] CouponTail evaluate_tail(const CouponTest& test, const FilmStack& stack,
                                       const CouponResult& result);

// The likelihood of each of shop_worlds(): of the point that is nearest to it. Empty for no points.
[[nodiscard]] std::vector<double> world_likelihoods(std::span<const TailPoint> points);

// What the points make of spread and break-up, beside what is thought of any shop: mean and standard
// deviation of logarithms (g/m2).
struct WaterLies {
  double ln_spread = 0.0, spread_sd = 0.0;
  double ln_break_up = 0.0, break_up_sd = 0.0;
};
[[nodiscard]] WaterLies water_lies(std::span<const TailPoint> points);

}  // namespace dryclock::models
