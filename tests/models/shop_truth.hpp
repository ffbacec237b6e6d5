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

#include "models/normal.hpp"
#include "models/piece_reach.hpp"
#include "models/shop_belief.hpp"

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

inline LaidZone zone(ZoneKind kind, double usual) {
  return {.kind = kind, .usual = GramsPerSquareMetre{usual}};
}

// A bay's air over hours, a quarter of an hour apart, and what film of one stack drinks in it.
class Bay {
 public:
  template <class Air>  // air(seconds since lay)
  Bay(const FilmStack& stack, Air air, double hours) : stack_(stack) {
    for (int step = 0; quarter * (step - 1) < hours * 3600.0; ++step) {
      air_.push_back(air(quarter * step));
    }
    CourseSpec spec;
    spec.stack = stack;
    spec.panel_at_lay = air_.front().air;
    Lanes factor{};
    for (std::size_t m = 0; m < members; ++m) {
      factor[m] = std::exp(lane_log_factors()[m]);
    }
    FilmCourse course(spec, factor, air_.front());
    trace_.add(course.now());
    for (std::size_t i = 1; i < air_.size(); ++i) {
      course.advance(air_[i - 1], air_[i], Seconds{quarter});
      trace_.add(course.now());
    }
    modes_ = course.modes();
  }
  // A piece of that film, laid in the beginning and carried to the end.
  [[nodiscard]] LaidPiece lay(const std::vector<LaidZone>& zones) const {
    LaidSpec spec;
    spec.stack = stack_;
    spec.zones = zones;
    spec.panel_at_lay = air_.front().air;
    LaidPiece piece(spec, air_.front());
    for (std::size_t i = 1; i < air_.size(); ++i) {
      piece.advance(air_[i - 1], air_[i], Seconds{quarter});
    }
    return piece;
  }
  [[nodiscard]] const std::vector<Surroundings>& air() const { return air_; }
  [[nodiscard]] const CourseTrace& trace() const { return trace_; }
  [[nodiscard]] const FilmModes& modes() const { return modes_; }
  [[nodiscard]] static std::size_t point(double hours) {
    return static_cast<std::size_t>(hours * 3600.0 / quarter);
  }

  static constexpr double quarter = 900.0;  // s

 private:
  FilmStack stack_;
  std::vector<Surroundings> air_;
  CourseTrace trace_;
  FilmModes modes_;
};

// What is expected of a piece that was laid in a bay.
class Expected {
 public:
  Expected(const Bay& bay, const std::vector<LaidZone>& zones, const ShopLevels& levels = {})
      : piece_(bay.lay(zones)), reach_(piece_, Thresholds{}, levels) {}
  Expected(const Expected&) = delete;
  Expected& operator=(const Expected&) = delete;
  ~Expected() = default;

  [[nodiscard]] const LaidPiece& piece() const { return piece_; }
  [[nodiscard]] PieceReach& reach() { return reach_; }
  [[nodiscard]] std::size_t last_point() const { return piece_.trace(0).size() - 1; }
  // The first point that lies so long after lay.
  [[nodiscard]] std::size_t point(double seconds) const {
    std::size_t at = 0;
    while (at < last_point() && piece_.trace(0)[at].seconds < seconds - 1e-3) {
      ++at;
    }
    return at;
  }
  // When the chance comes to `level`, between points. [s since lay] +infinity: not within the trace.
  [[nodiscard]] double when(Milestone which, double level, const std::vector<ShopNode>& nodes) {
    const CourseTrace& trace = piece_.trace(0);
    std::size_t low = 0, high = last_point();
    if (reach_.chance(which, high, nodes) < level) return std::numeric_limits<double>::infinity();
    if (reach_.chance(which, low, nodes) >= level) return 0.0;
    while (high - low > 1) {
      const std::size_t middle = (low + high) / 2;
      (reach_.chance(which, middle, nodes) < level ? low : high) = middle;
    }
    const double before = reach_.chance(which, low, nodes), after = reach_.chance(which, high, nodes);
    const double share = (level - before) / (after - before);
    return trace[low].seconds + share * (trace[high].seconds - trace[low].seconds);
  }

 private:
  LaidPiece piece_;
  PieceReach reach_;
};

// The edge of a piece as it is pressed down, never opened.
inline const Margin pressed_margin{
    .width = 0.005, .openness = 0.1, .opened = 1.0, .opened_at = std::numeric_limits<double>::infinity()};

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
    made.reserve(count);
    for (int i = 0; i < count; ++i) {
      made.emplace_back(0.4 * std::exp(0.4 * normal_quantile((i + 0.5) / count)));
    }
    return made;
  }();
  return all;
}

inline Shop draw_shop(Draws& draws, const ShopLevels& levels) {
  const auto deviation = [&](double sd, double furthest) {
    double at = 0.0;
    do {
      at = sd * (draws.uniform() < odd_shops ? odd_width : usual_width) * draws.normal();
    } while (std::abs(at) > furthest);  // where the lattice ends
    return at;
  };
  Shop shop;
  shop.film = deviation(levels.film_common(), -film_lattice.first);
  shop.hand = deviation(levels.hand(), -hand_lattice.first);
  const auto which = static_cast<std::size_t>(draws.uniform() * static_cast<double>(spreads().size()));
  shop.water.spread = &spreads()[which];
  shop.water.break_up = 0.5 * std::exp(0.7 * draws.normal());
  shop.margin_speed = std::exp(0.39 * draws.normal());
  shop.water.bond_slowness = std::exp(0.3 * draws.normal());
  shop.water.law = draws.uniform() < 0.5 ? BondLaw::williams_landel_ferry : BondLaw::arrhenius;
  return shop;
}

// A shop and its levels: how much its pieces have in common is drawn too.
struct AnyShop {
  ShopLevels levels;
  Shop shop;
};
inline AnyShop draw_any_shop(Draws& draws, const ShopLevels& levels) {
  double left = draws.uniform();
  std::size_t which = 0;
  while (which + 1 < sharings.size() && left > sharings[which].weight) {
    left -= sharings[which++].weight;
  }
  const ShopLevels here = shared(levels, sharings[which]);
  return {here, draw_shop(draws, here)};
}

struct TruePiece {
  double log_factor = 0.0;        // of its film's resistance
  std::vector<double> log_water;  // of its zones, ln of g/m2
  std::vector<LaidZone> zones;
};

inline TruePiece draw_piece(Draws& draws, const Shop& shop, const ShopLevels& levels,
                            const std::vector<LaidZone>& zones) {
  TruePiece piece{shop.film + levels.film_piece() * draws.normal(), {}, zones};
  const double common = shop.hand + levels.piece() * draws.normal();
  for (const LaidZone& one : zones) {
    piece.log_water.push_back(std::log(one.usual.value()) + common + levels.zone() * draws.normal());
  }
  return piece;
}

// When a true piece is where a step asks, in seconds since lay. +infinity: not within the trace.
class TrueTimes {
 public:
  explicit TrueTimes(const Bay& bay) : trace_(bay.trace()), delays_(excess_delays(bay.modes())) {}

  [[nodiscard]] double when(const TruePiece& piece, const Shop& shop, Milestone step) const {
    std::size_t low = 0, high = trace_.size() - 1;
    if (spare(piece, shop, step, high) < 0.0) return std::numeric_limits<double>::infinity();
    if (spare(piece, shop, step, low) >= 0.0) return 0.0;
    while (high - low > 1) {
      const std::size_t middle = (low + high) / 2;
      (spare(piece, shop, step, middle) < 0.0 ? low : high) = middle;
    }
    const double before = spare(piece, shop, step, low), after = spare(piece, shop, step, high);
    const double share = std::isfinite(before) && std::isfinite(after) ? before / (before - after) : 1.0;
    return trace_[low].seconds + share * (trace_[high].seconds - trace_[low].seconds);
  }

  // Share of a zone that is wet at a point of the trace.
  [[nodiscard]] double wet(const TruePiece& piece, const Shop& shop, std::size_t zone,
                           std::size_t point) const {
    const double drunk = between_lanes(trace_[point].drunk, lane_log_factors(), piece.log_factor);
    return margin_of(piece.zones[zone], shop).left(trace_[point].front_squared) *
           WaterSpread::exact(shop.water.spread->sigma(), std::exp(piece.log_water[zone]), drunk,
                              shop.water.break_up);
  }
  // Water left of a zone at a point of the trace. [g/m2]
  [[nodiscard]] double left(const TruePiece& piece, const Shop& shop, std::size_t zone,
                            std::size_t point) const {
    const double drunk = between_lanes(trace_[point].drunk, lane_log_factors(), piece.log_factor);
    return margin_left(piece, shop, zone, point) * WaterSpread::left(shop.water.spread->sigma(),
                                                                     std::exp(piece.log_water[zone]), drunk,
                                                                     shop.water.break_up);
  }
  // Share of a zone that is wet there. [0..1]
  [[nodiscard]] double wet_share(const TruePiece& piece, const Shop& shop, std::size_t zone,
                                 std::size_t point) const {
    const double drunk = between_lanes(trace_[point].drunk, lane_log_factors(), piece.log_factor);
    return margin_left(piece, shop, zone, point) * WaterSpread::exact(shop.water.spread->sigma(),
                                                                      std::exp(piece.log_water[zone]), drunk,
                                                                      shop.water.break_up);
  }

 private:
  // How much more water the zone that has least to spare could have had, as a logarithm.
  [[nodiscard]] double spare(const TruePiece& piece, const Shop& shop, Milestone step,
                             std::size_t point) const {
    const auto has = [&](ZoneKind kind) {
      return std::any_of(piece.zones.begin(), piece.zones.end(),
                         [&](const LaidZone& one) { return one.kind == kind; });
    };
    const LanePlace place = place_among(lane_log_factors(), piece.log_factor);
    double least = std::numeric_limits<double>::infinity();
    for (std::size_t z = 0; z < piece.zones.size(); ++z) {
      const ZoneAsks asks =
          asks_of(Thresholds{}, step, piece.zones[z].kind, has(ZoneKind::edge), has(ZoneKind::field));
      Lanes by_lane{};
      for (std::size_t m = place.first; m < place.first + place.weight.size(); ++m) {
        by_lane[m] = most_water(trace_, point, m, delays_, shop.water, margin_of(piece.zones[z], shop), asks);
      }
      const double most = place.of(by_lane);
      least = std::min(least, most - piece.log_water[z]);
    }
    return least;
  }

  [[nodiscard]] double margin_left(const TruePiece& piece, const Shop& shop, std::size_t zone,
                                   std::size_t point) const {
    return margin_of(piece.zones[zone], shop).left(trace_[point].front_squared);
  }
  [[nodiscard]] static Margin margin_of(const LaidZone& zone, const Shop& shop) {
    Margin margin = zone.kind == ZoneKind::edge ? pressed_margin : Margin{};
    margin.width /= shop.margin_speed;
    return margin;
  }

  const CourseTrace& trace_;
  std::array<double, looks_back> delays_;
};

}  // namespace shop_truth
