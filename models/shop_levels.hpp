// What is not known of a shop's drying, level by level, as normal deviates of logarithms: what its film lets
// through, how much water its hands leave, how that water lies.
//
// Nobody has measured water under such film. These are set so that common practice (no source) comes out at
// the level at which a step is announced; the film's resistance times the water is all that practice fixes.
#pragma once

#include <array>
#include <cmath>
#include <cstddef>
#include <vector>

#include "models/bond.hpp"
#include "models/reach.hpp"
#include "models/water_spread.hpp"

namespace dryclock::models {

// Standard deviations of natural logarithms, with the shares of their variances: of a film's, what all its
// pieces have in common; of the water's, what is common to these hands and to one piece. The rest is each
// piece's, and each zone's, own.
struct ShopLevels {
  double film = 0.35;  // of a piece's resistance against the catalogue's
  double film_share = 0.88;
  double water = 0.50;  // under a zone
  double hand_share = 0.60;
  double piece_share = 0.12;
  double eye = 0.40;  // of what these eyes call wet and clear
  [[nodiscard]] double film_common() const { return film * std::sqrt(film_share); }
  [[nodiscard]] double film_piece() const { return film * std::sqrt(1.0 - film_share); }
  [[nodiscard]] double hand() const { return water * std::sqrt(hand_share); }
  [[nodiscard]] double piece() const { return water * std::sqrt(piece_share); }
  [[nodiscard]] double zone() const { return water * std::sqrt(1.0 - hand_share - piece_share); }
};

// How much a shop's pieces have in common is not known either: in some they are hardly alike. Assumption.
struct Sharing {
  double film = 0.0, hand = 0.0;  // shares of variance, as in ShopLevels
  double weight = 0.0;
};
inline constexpr std::array<Sharing, 3> sharings{
    {{0.20, 0.10, 0.30}, {0.88, 0.60, 0.45}, {0.95, 0.75, 0.25}}};
// The same levels in a shop whose pieces share so much.
[[nodiscard]] ShopLevels shared(ShopLevels levels, const Sharing& sharing);

// A way in which water may lie and edges may dry, the same all over the shop.
struct ShopWorld {
  double weight = 0.0;
  WaterWorld water;
  double margin_speed = 1.0;  // of the front against an edge of usual width and openness
};

// The ways that are weighed: the spread of the layer in three, and for each of them break-up, margin and bond
// in six, which keep means, spreads and third moments (Stroud's rule of degree 3). Weights sum to 1.
//   spread of ln thickness within a zone   0.4, itself within a factor of 1.5 (ln sd 0.4)
//   break-up w_c                           0.5 g/m2, ln sd 0.7
//   front of the margin                    ln sd 0.39: width 0.3, openness 0.5, the root of it
//   bond                                   24 h at 20 C, ln sd 0.3, half of it by either law
[[nodiscard]] const std::vector<ShopWorld>& shop_worlds();

// A coupon is a plate, and pieces are not: so much is left to ways that a coupon speaks against, where those
// that it speaks for have 1. Assumption.
inline constexpr double unlike_coupons = 0.1;

// Most shops are like others and a few are not: a deviation from the usual is normal with 0.75 of its level's
// standard deviation for most of them, and with three times the level's for 0.15. That leaves the ninth
// decile where it would be, and lets a shop that is not like others be learnt. Assumption.
inline constexpr double odd_shops = 0.15, usual_width = 0.75, odd_width = 3.0;
// Its density but for a factor.
[[nodiscard]] double shop_density(double deviation, double sd);

// Gauss and Hermite's nodes and weights for a standard normal deviate.
struct Deviate {
  double at = 0.0, weight = 0.0;
};
inline constexpr std::array<Deviate, 3> three_deviates{
    {{-1.7320508075688772, 1.0 / 6.0}, {0.0, 2.0 / 3.0}, {1.7320508075688772, 1.0 / 6.0}}};

// One thing that the shop may be. The deviations are of logarithms.
struct ShopNode {
  double weight = 0.0;
  double film = 0.0, hand = 0.0;
  std::size_t world = 0;  // of shop_worlds()
  // Standard deviations of what is left: one piece's resistance, the water under one zone.
  double film_piece = 0.0, zone = 0.0;
};

}  // namespace dryclock::models
