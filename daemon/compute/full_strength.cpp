#include "compute/full_strength.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

#include "models/piece_reach.hpp"

namespace dryclock::compute {
namespace {

using models::Milestone;
using models::ZoneKind;

constexpr int most_days = 21;  // beyond the forecast

// Asks of every zone at refitting for the bond alone.
models::Thresholds bond_alone(models::Thresholds thresholds) {
  thresholds.gone_wet = 1.0;
  thresholds.refit_bond = thresholds.strength_bond;
  return thresholds;
}

std::vector<std::size_t> bearing(const models::LaidPiece& piece) {
  const auto& zones = piece.zones();
  const auto bears = [](const models::LaidZone& zone) {
    return zone.kind == ZoneKind::field || zone.kind == ZoneKind::edge;
  };
  const bool any = std::ranges::any_of(zones, bears);
  std::vector<std::size_t> out;
  for (std::size_t z = 0; z < zones.size(); ++z) {
    if (!any || bears(zones[z])) out.push_back(z);
  }
  return out;
}

// Whether all of them are as likely as not there, at a point of the trace.
class Strength {
 public:
  Strength(const models::LaidPiece& piece, const models::Thresholds& thresholds,
           const models::ShopLevels& levels, std::span<const models::ShopNode> nodes)
      : reach_(piece, bond_alone(thresholds), levels), zones_(bearing(piece)), nodes_(nodes) {}
  [[nodiscard]] bool at(std::size_t point) {
    return std::ranges::all_of(zones_, [&](std::size_t zone) {
      return reach_.zone_chance(Milestone::refit_ready, zone, point, nodes_) >= 0.5;
    });
  }

 private:
  models::PieceReach reach_;
  std::vector<std::size_t> zones_;
  std::span<const models::ShopNode> nodes_;
};

// The first point after `low` where it is; at `high` it is.
std::size_t first_point(Strength& strength, std::size_t low, std::size_t high) {
  while (high - low > 1) {
    const std::size_t middle = low + (high - low) / 2;
    (strength.at(middle) ? high : low) = middle;
  }
  return high;
}

}  // namespace

std::optional<double> full_strength(const models::LaidPiece& carried, double now, double least,
                                    std::span<const models::Surroundings> air, models::Seconds step,
                                    const models::Thresholds& thresholds, const models::ShopLevels& levels,
                                    std::span<const models::ShopNode> nodes) {
  if (air.size() < 2) return std::nullopt;
  models::LaidPiece piece = carried;
  const auto day = std::min(air.size() - 1, static_cast<std::size_t>(std::llround(models::one_day / step)));
  std::optional<std::size_t> before;  // a point where it is not
  for (int days = 0; days <= most_days; ++days) {
    if (days > 0) piece.advance(air.last(day + 1), step);
    const auto& trace = piece.trace(0);
    const std::size_t last = trace.size() - 1;
    if (trace[last].seconds < now + least) continue;
    Strength strength(piece, thresholds, levels, nodes);
    if (!before) {
      before = trace.where_seconds(now + least).index;
      if (strength.at(*before)) return least;
    }
    if (strength.at(last)) return trace[first_point(strength, *before, last)].seconds - now;
    before = last;
  }
  return std::nullopt;
}

}  // namespace dryclock::compute
