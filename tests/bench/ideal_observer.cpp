#include "ideal_observer.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include "models/inspection.hpp"
#include "stopwatch.hpp"

namespace dryclock::bench {

using namespace models;
using shop_truth::Shop;

namespace {

constexpr double blur_sd = 0.74, same_reading = 0.7;  // as the looks are drawn
constexpr double furthest = 9.0;  // shops whose weight is less by so many e-folds are let go
constexpr Deviations waters{-3.3, 0.15, 45};
// Gauss and Hermite's five.
constexpr std::array<Deviate, 5> five{{{-2.8569700138728056, 0.01125741132772071},
                                       {-1.355626179974266, 0.22207592200561266},
                                       {0.0, 0.5333333333333333},
                                       {1.355626179974266, 0.22207592200561266},
                                       {2.8569700138728056, 0.01125741132772071}}};
using ByWater = std::array<double, waters.count>;

// How likely what the eye saw of one zone is, over its water against what these hands leave.
ByWater seen_by_eye(const ZoneEvidence& zone, double log_factor, const Shop& shop, double eye) {
  Margin margin = zone.margin;
  margin.width /= shop.margin_speed;
  ByWater all{};
  for (std::size_t i = 0; i < waters.count; ++i) {
    const double water = zone.usual * std::exp(shop.hand + waters[i]);
    std::array<double, five.size()> by_reading{};
    std::ranges::transform(five, by_reading.begin(), &Deviate::weight);
    for (const Seen& seen : zone.seen) {
      const double drunk = between_lanes(seen.drunk, lane_log_factors(), log_factor) / shop.water.break_up;
      const double left = margin.left(seen.front_squared) * water *
                          shop.water.spread->left_share(std::log(water / shop.water.break_up), drunk);
      for (std::size_t k = 0; k < five.size(); ++k) {
        const double off = eye + std::sqrt(same_reading) * blur_sd * five[k].at;
        by_reading[k] *= sight(seen.sign, left * std::exp(-off), std::sqrt(1.0 - same_reading));
      }
    }
    for (const double one : by_reading) {
      all[i] += one;
    }
  }
  return all;
}

// Its mean over a normal deviate.
double mean_about(const ByWater& values, double middle, double sd) {
  double sum = 0.0, weights = 0.0;
  for (std::size_t i = 0; i < waters.count; ++i) {
    const double z = (waters[i] - middle) / sd, weight = std::exp(-0.5 * z * z);
    weights += weight;
    sum += weight * values[i];
  }
  return sum / weights;
}

// What is the piece's own is summed over.
double likelihood(const PieceEvidence& piece, const Shop& shop, const ShopLevels& levels, double eye) {
  double all = 0.0;
  for (const Deviate& film : three_deviates) {
    std::array<double, five.size()> both{};
    std::ranges::transform(five, both.begin(), &Deviate::weight);
    for (const ZoneEvidence& zone : piece.zones) {
      const auto seen = seen_by_eye(zone, shop.film + levels.film_piece() * film.at, shop, eye);
      for (std::size_t k = 0; k < five.size(); ++k) {
        both[k] *= mean_about(seen, levels.piece() * five[k].at, levels.zone());
      }
    }
    for (const double one : both) {
      all += film.weight * one;
    }
  }
  return all;
}

// ln of how likely such a film and such hands are, but for a constant.
double log_prior(const Shop& shop, const ShopLevels& levels) {
  const double film = levels.film_common(), hand = levels.hand();
  return std::log(shop_density(shop.film, film) / film * shop_density(shop.hand, hand) / hand);
}

}  // namespace

// Film and hands are drawn evenly over all that they may be, so that far ones are not few, and weighed.
IdealObserver::IdealObserver(std::uint32_t own_seed, std::size_t shops) : draws_(own_seed) {
  for (std::size_t i = 0; i < shops; ++i) {
    const shop_truth::AnyShop any = shop_truth::draw_any_shop(draws_, {});
    One one{any.shop, any.levels, any.levels.eye * draws_.normal(), 0.0};
    one.shop.film = film_lattice.first * (1.0 - 2.0 * draws_.uniform());
    one.shop.hand = hand_lattice.first * (1.0 - 2.0 * draws_.uniform());
    one.log_weight = log_prior(one.shop, one.levels);
    shops_.push_back(one);
  }
}

void IdealObserver::tell(const Shop& shop, double eye) {
  for (One& one : shops_) {
    one.shop.water = shop.water;
    one.shop.margin_speed = shop.margin_speed;
    one.eye = eye;
  }
}

double IdealObserver::most() const {
  double most = -std::numeric_limits<double>::infinity();
  for (const One& one : shops_) {
    most = std::max(most, one.log_weight);
  }
  return most;
}

void IdealObserver::learn(const PieceEvidence& seen) {
  const double least = most() - furthest;
  std::erase_if(shops_, [&](const One& one) { return one.log_weight < least; });
  for (One& one : shops_) {
    one.log_weight += std::log(likelihood(seen, one.shop, one.levels, one.eye));
  }
}

double IdealObserver::next(const shop_truth::TrueTimes& times) {
  constexpr int pieces = 400;
  const double top = most();
  double sum = 0.0;
  for (const One& one : shops_) {
    sum += std::exp(one.log_weight - top);
  }
  std::vector<double> came;
  double so_far = 0.0;
  for (const One& one : shops_) {
    so_far += std::exp(one.log_weight - top) / sum;
    while (static_cast<double>(came.size()) + 0.5 < so_far * pieces) {
      came.push_back(times.when(shop_truth::draw_piece(draws_, one.shop, one.levels, bonnet), one.shop,
                                Milestone::wrap_ready));
    }
  }
  return median(came);
}

}  // namespace dryclock::bench
