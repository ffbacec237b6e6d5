#include "compute/piece_ahead.hpp"

#include <algorithm>
#include <cmath>

#include "models/normal.hpp"
#include "models/pace.hpp"

namespace dryclock::compute {
namespace {

using models::Surroundings;

// Of the chance over all nodes, as a normal deviate: it is followed in steps of at most so much, within what
// can be told from never and for sure.
constexpr double deviate_step = 1.2, sure = 3.0;

double deviate_of(double chance) {
  const double least = models::normal_cdf(-sure);
  return models::normal_quantile(std::clamp(chance, least, 1.0 - least));
}

double pace_of(const models::LaidPiece& piece, const Surroundings& air) {
  return models::pace(piece.panel(), air.air, air.humidity);
}

}  // namespace

PieceAhead::PieceAhead(PieceNow& now, const AirAhead& air, const models::Thresholds& thresholds,
                       const models::ShopLevels& levels)
    : now_(&now),
      moments_(&air.gone_through()),
      points_{now.point},
      piece_(now.piece),
      reach_(piece_, thresholds, levels) {
  // Water leaves by the logarithm of what was delivered since lay.
  constexpr double at_lay = 0.5;  // h
  const double before = at_lay + now.piece.seconds() / 3600.0;
  for (const double hours : air.delivered()) {
    clock_.push_back(std::log(before + hours));
  }
  advance(air.air());
}

void PieceAhead::advance(std::span<const Surroundings> air) {
  if (air.empty()) return;  // there is but now
  double hours = 0.0, before = pace_of(piece_, air.front());
  for (std::size_t moment = 1; moment < moments_->size(); ++moment) {
    const std::size_t last = moments_->step(moment);
    for (std::size_t from = moments_->step(moment - 1), to = from; from < last; from = to) {
      to = std::min(from + moments_->half_hour(), last);
      piece_.advance(air.subspan(from, to - from + 1), moments_->spacing());
      const double here = pace_of(piece_, air[to]);
      hours += static_cast<double>(to - from) * moments_->spacing().value() / 3600.0 * 0.5 * (before + here);
      before = here;
    }
    points_.push_back(piece_.trace(0).size() - 1);
    standard_hours_.push_back(hours);
  }
}

double PieceAhead::standard_hours(double seconds) const {
  std::size_t next = 1;
  while (next < moments_->size() && moments_->seconds(next) < seconds) {
    ++next;
  }
  if (next >= moments_->size()) return standard_hours_.back();
  const double from = moments_->seconds(next - 1);
  const double share = std::max(0.0, seconds - from) / (moments_->seconds(next) - from);
  return standard_hours_[next - 1] + share * (standard_hours_[next] - standard_hours_[next - 1]);
}

Knot PieceAhead::knot(models::Milestone which, std::size_t moment, std::span<const models::ShopNode> nodes) {
  Knot knot{moment, std::vector<double>(nodes.size()), 0.0};
  (moment == 0 ? now_->reach : reach_).chances(which, points_[moment], nodes, knot.chances);
  knot.deviate = deviate_of(mixed(knot.chances, nodes));
  return knot;
}

std::size_t PieceAhead::between(std::size_t moment, std::size_t later) const {
  const double middle = 0.5 * (clock_[moment] + clock_[later]);
  std::size_t found = moment + 1;
  while (found + 1 < later && clock_[found] < middle) {
    ++found;
  }
  return found;
}

std::vector<Knot> PieceAhead::knots(models::Milestone which, std::span<const models::ShopNode> nodes) {
  const std::size_t last = moments_->size() - 1;
  std::vector<Knot> knots{knot(which, 0, nodes)};
  if (last > 0) {
    // Those still to be reached, the next one at the back.
    std::vector<Knot> ahead{knots.back().deviate >= sure ? Knot{last, knots.back().chances, sure}
                                                         : knot(which, last, nodes)};
    while (!ahead.empty()) {
      const Knot& from = knots.back();
      const Knot& to = ahead.back();
      if (to.moment - from.moment > 1 && to.deviate - from.deviate > deviate_step) {
        ahead.push_back(knot(which, between(from.moment, to.moment), nodes));
      } else {
        knots.push_back(std::move(ahead.back()));
        ahead.pop_back();
      }
    }
  }
  return knots;
}

Curve PieceAhead::curve(models::Milestone which, std::span<const models::ShopNode> nodes) {
  auto followed = knots(which, nodes);
  for (Knot& knot : followed) {
    knot.chances = {mixed(knot.chances, nodes)};
  }
  constexpr models::ShopNode all{.weight = 1.0};
  return through(followed, clock_).over({&all, 1}, *moments_);
}

Chances PieceAhead::chances(models::Milestone which, std::span<const models::ShopNode> nodes) {
  return through(knots(which, nodes), clock_);
}

}  // namespace dryclock::compute
