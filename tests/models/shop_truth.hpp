// Shops and pieces drawn from the levels as they are stated, continuous where the models weigh a few nodes:
// what is announced can be held against them. Invented shops.
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <limits>
#include <random>
#include <vector>

#include "models/ensemble.hpp"
#include "models/piece_outlook.hpp"

namespace shop_truth {

using namespace dryclock::models;

// Uniform numbers of a generator that the standard defines bit by bit, made normal.
class Draws {
 public:
  explicit Draws(std::uint32_t seed) : random_(seed) {}
  double uniform() { return (static_cast<double>(random_()) + 0.5) / 4294967296.0; }
  double normal() { return normal_quantile(uniform()); }

 private:
  std::mt19937 random_;
};

// What a shop truly is: the levels of shop_levels.hpp, as its header states them.
struct Shop {
  double film = 0.0, hand = 0.0;  // deviations of logarithms
  WaterWorld water;
  double margin_speed = 1.0;
};

inline const std::vector<WaterSpread>& spreads() {
  static const std::vector<WaterSpread> all = [] {
    constexpr int count = 15;
    std::vector<WaterSpread> made;
    for (int i = 0; i < count; ++i) {
      made.emplace_back(0.4 * std::exp(0.4 * normal_quantile((i + 0.5) / count)));
    }
    return made;
  }();
  return all;
}

inline Shop draw_shop(Draws& draws, const ShopLevels& levels) {
  Shop shop;
  shop.film = levels.film * draws.normal();
  shop.hand = levels.hand() * draws.normal();
  const auto which = static_cast<std::size_t>(draws.uniform() * static_cast<double>(spreads().size()));
  shop.water.spread = &spreads()[which];
  shop.water.break_up = 0.5 * std::exp(0.7 * draws.normal());
  shop.margin_speed = std::exp(0.39 * draws.normal());
  shop.water.bond_slowness = std::exp(0.3 * draws.normal());
  shop.water.law = draws.uniform() < 0.5 ? BondLaw::williams_landel_ferry : BondLaw::arrhenius;
  return shop;
}

struct TruePiece {
  double log_factor = 0.0;        // of its film's resistance
  std::vector<double> log_water;  // of its zones, ln of g/m2
  std::vector<ZoneWater> zones;
};

inline TruePiece draw_piece(Draws& draws, const Shop& shop, const ShopLevels& levels,
                            const std::vector<ZoneWater>& zones) {
  TruePiece piece{shop.film + levels.film_piece * draws.normal(), {}, zones};
  const double common = shop.hand + levels.piece() * draws.normal();
  for (const ZoneWater& zone : zones) {
    piece.log_water.push_back(std::log(zone.usual) + common + levels.zone() * draws.normal());
  }
  return piece;
}

// When a true piece is where a step asks, in seconds since lay. +infinity: not within the trace.
class TrueTimes {
 public:
  TrueTimes(const CourseTrace& trace, const FilmModes& modes, const Lanes& log_factor)
      : trace_(trace), delays_(excess_delays(modes)), log_factor_(log_factor) {}

  [[nodiscard]] double when(const TruePiece& piece, const Shop& shop, Step step) const {
    std::size_t low = 0, high = trace_.size() - 1;
    if (spare(piece, shop, step, high) < 0.0) return std::numeric_limits<double>::infinity();
    if (spare(piece, shop, step, low) >= 0.0) return 0.0;
    while (high - low > 1) {
      const std::size_t middle = (low + high) / 2;
      (spare(piece, shop, step, middle) < 0.0 ? low : high) = middle;
    }
    return trace_[high].seconds;
  }

 private:
  // How much more water the zone that has least to spare could have had, as a logarithm.
  [[nodiscard]] double spare(const TruePiece& piece, const Shop& shop, Step step, std::size_t point) const {
    const auto has = [&](ZoneKind kind) {
      return std::any_of(piece.zones.begin(), piece.zones.end(),
                         [&](const ZoneWater& zone) { return zone.kind == kind; });
    };
    const double place =
        std::clamp((piece.log_factor - log_factor_.front()) / (log_factor_[1] - log_factor_[0]), 0.0,
                   static_cast<double>(members - 1) - 1e-9);
    const auto lane = static_cast<std::size_t>(place);
    double least = std::numeric_limits<double>::infinity();
    for (std::size_t z = 0; z < piece.zones.size(); ++z) {
      Margin margin = piece.zones[z].margin;
      margin.width /= shop.margin_speed;
      const ZoneAsks asks = asks_of(step, piece.zones[z].kind, has(ZoneKind::edge), has(ZoneKind::field));
      const auto at = [&](std::size_t m) {
        return most_water(trace_, point, m, delays_, shop.water, margin, asks,
                          std::numeric_limits<double>::quiet_NaN());
      };
      const double low = at(lane), high = at(lane + 1);
      const double most = std::isfinite(low) && std::isfinite(high)
                              ? low + (place - static_cast<double>(lane)) * (high - low)
                              : std::min(low, high);
      least = std::min(least, most - piece.log_water[z]);
    }
    return least;
  }

  const CourseTrace& trace_;
  std::array<double, looks_back> delays_;
  Lanes log_factor_;
};

}  // namespace shop_truth
