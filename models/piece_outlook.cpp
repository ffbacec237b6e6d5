#include "models/piece_outlook.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "models/ensemble.hpp"

namespace dryclock::models {
namespace {

// What counts as wet, as a share of a zone's area. Assumptions, set so that common practice comes out.
constexpr double liquid_share = 0.10, clear_share = 0.05, pocket_share = 0.20;
constexpr double wrap_excess = 0.25, trim_excess = 0.15;
constexpr double wrap_bond = 0.5, held_bond = 0.6;

}  // namespace

ZoneAsks asks_of(Step step, ZoneKind kind, bool has_edge, bool has_field) {
  const bool margin = kind == ZoneKind::edge || !has_edge;
  const bool holds = kind == ZoneKind::field || !has_field;
  switch (step) {
    case Step::liquid_gone:
      return {.wet_share = liquid_share};
    case Step::wrap:
      return {.wet_share = margin ? liquid_share : 1.0,
              .excess = margin ? wrap_excess : 1.0,
              .bond = holds ? wrap_bond : 0.0};
    case Step::trim:
      return margin ? ZoneAsks{.wet_share = liquid_share, .excess = trim_excess, .bond = held_bond}
                    : ZoneAsks{};
    case Step::clear:
      return {.wet_share = clear_share};
    case Step::may_leave:
      return margin ? ZoneAsks{.wet_share = clear_share, .bond = held_bond}
                    : ZoneAsks{.wet_share = pocket_share};
  }
  return {};
}

PieceOutlook::PieceOutlook(const CourseTrace& trace, const FilmModes& modes, const Lanes& log_factor,
                           std::vector<ZoneWater> zones, const ShopLevels& levels)
    : trace_(trace),
      film_delays_(excess_delays(modes)),
      log_factor_(log_factor),
      zones_(std::move(zones)),
      levels_(levels) {
  for (const ZoneWater& zone : zones_) {
    has_edge_ = has_edge_ || zone.kind == ZoneKind::edge;
    has_field_ = has_field_ || zone.kind == ZoneKind::field;
  }
}

const Lanes& PieceOutlook::most(const Key& key) {
  const auto known = most_.find(key);
  if (known != most_.end()) return known->second;
  const ShopWorld& world = shop_worlds()[key.world];
  const ZoneWater& zone = zones_[key.zone];
  Margin margin = zone.margin;
  margin.width /= world.margin_speed;
  const ZoneAsks asks = asks_of(key.step, zone.kind, has_edge_, has_field_);
  Lanes lanes{};
  double guess = std::numeric_limits<double>::quiet_NaN();
  for (std::size_t m = 0; m < members; ++m) {
    lanes[m] = most_water(trace_, key.point, m, film_delays_, world.water, margin, asks, guess);
    guess = lanes[m];
  }
  return most_.emplace(key, lanes).first->second;
}

double PieceOutlook::chance(Step step, std::size_t point, const ShopNode& node) {
  double sum = 0.0;
  for (const Deviate& film : three_deviates) {
    const double log_factor = node.film + node.film_piece * film.at;
    for (const Deviate& piece : three_deviates) {
      const double common = node.hand + levels_.piece() * piece.at;
      double all = film.weight * piece.weight;
      for (std::size_t z = 0; z < zones_.size() && all > 0.0; ++z) {
        const double most_here = between_lanes(most({step, z, point, node.world}), log_factor_, log_factor);
        all *= normal_cdf((most_here - std::log(zones_[z].usual) - common) / node.zone);
      }
      sum += all;
    }
  }
  return sum;
}

double PieceOutlook::chance(Step step, std::size_t point, const std::vector<ShopNode>& nodes) {
  double sum = 0.0;
  for (const ShopNode& node : nodes) {
    sum += node.weight * chance(step, point, node);
  }
  return sum;
}

double PieceOutlook::when(Step step, double level, const std::vector<ShopNode>& nodes) {
  std::size_t low = 0, high = trace_.size() - 1;
  if (chance(step, high, nodes) < level) return std::numeric_limits<double>::infinity();
  if (chance(step, low, nodes) >= level) return 0.0;
  while (high - low > 1) {
    const std::size_t middle = (low + high) / 2;
    (chance(step, middle, nodes) < level ? low : high) = middle;
  }
  const double before = chance(step, low, nodes), after = chance(step, high, nodes);
  const double share = (level - before) / (after - before);
  return trace_[low].seconds + share * (trace_[high].seconds - trace_[low].seconds);
}

}  // namespace dryclock::models
