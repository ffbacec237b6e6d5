#include "engine/early_steps.hpp"

#include <algorithm>

#include "domain/milestones.hpp"
#include "engine/facts.hpp"
#include "engine/minutes.hpp"
#include "models/piece_reach.hpp"

namespace dryclock::engine {
namespace {

using models::Milestone;

bool was_ready(const Said& said, Time at) {
  return said.ready && *said.ready <= at;
}

// The least time indoors was kept, and nothing is still planned.
bool indoors_kept(const Vehicle& vehicle, Time at) {
  const auto last = vehicle.plan.last_on(at);
  return last && indoors(vehicle.plan, *last, at) >= vehicle.terms->least_indoor;
}

// What is known of a piece at a moment that may have passed.
struct Then {
  double probability = 0.0;
  Fact still_wet{"limits.no-readings"};
};
Then then(const PieceTrack& track, Milestone which, Millis ago, const models::Thresholds& thresholds,
          const std::vector<models::ShopNode>& nodes, const models::ShopLevels& levels) {
  const auto& piece = *track.piece;
  const double since = std::chrono::duration<double>(std::max(Millis{0}, ago)).count();
  const auto point = point_at(piece, std::max(0.0, piece.seconds() - since));
  Then out;
  out.probability = models::PieceReach{piece, thresholds, levels}.chance(which, point, nodes);
  std::vector<ZoneView> zones;
  for (std::size_t zone = 0; zone < piece.zones().size(); ++zone) {
    const auto holds = models::zone_holds(piece, zone, point, nodes, levels);
    ZoneView view;
    view.kind = piece.zones()[zone].kind;
    view.water = holds.water;
    view.wet_share = holds.wet_share;
    view.excess = holds.excess;
    view.bond = holds.bond;
    zones.push_back(view);
  }
  out.still_wet = still_wet(zones, which, thresholds);
  return out;
}

std::string_view step_name(Milestone which) {
  switch (which) {
    case Milestone::wrap_ready:
      return "edge-wrapped";
    case Milestone::trim_ready:
      return "trimmed";
    case Milestone::refit_ready:
      return "refitted";
    default:
      return "released";
  }
}

}  // namespace

bool EarlySteps::is_early(const Event& event, const Shop& shop, const Calls& calls) {
  const auto asked = asked_by(event.detail);
  const auto* vehicle = shop.vehicle(shop.vehicle_of(event));
  if (!asked || vehicle == nullptr || !vehicle->plan.valid) {
    return false;
  }
  const auto said = [&](PieceId piece) {
    return was_ready(calls.of(piece)[static_cast<std::size_t>(asked->milestone)], event.at);
  };
  if (asked->piece != 0) {
    return !said(asked->piece);
  }
  if (was_ready(calls.release_of(vehicle->plan.id), event.at)) {
    return false;
  }
  // While something is planned nothing is said of the vehicle: then its pieces speak for it.
  const bool planned = !vehicle->plan.to_lay().empty();
  return !planned || !indoors_kept(*vehicle, event.at) ||
         !std::ranges::all_of(vehicle->plan.pieces, [&](const PiecePlan& piece) {
           return !piece.is_on(event.at) || said(piece.id);
         });
}

void EarlySteps::note(const Event& event, const Shop& shop, const Calls& calls,
                      const models::ShopBelief& belief) {
  const auto asked = *asked_by(event.detail);
  const auto& vehicle = *shop.vehicle(shop.vehicle_of(event));
  const auto k = static_cast<std::size_t>(asked.milestone);
  const auto& thresholds = vehicle.terms->thresholds;
  std::map<std::string, std::vector<models::ShopNode>> nodes;
  for (const auto& piece : vehicle.plan.pieces) {
    if (asked.piece != 0 ? piece.id != asked.piece : !piece.is_on(event.at)) {
      continue;
    }
    Then known;
    const auto* track = vehicle.track.piece(piece.id);
    if (track != nullptr && track->piece) {
      const auto key = piece.belief_key();
      auto& of_film = nodes[key];
      if (of_film.empty()) {
        of_film = belief.nodes(key);
      }
      known = then(*track, asked.milestone, *vehicle.track.integrated() - event.at, thresholds, of_film,
                   belief.levels(key));
    }
    if (asked.piece == 0 && was_ready(calls.of(piece.id)[k], event.at)) {
      if (vehicle.plan.to_lay().empty() || !indoors_kept(vehicle, event.at)) {
        known.still_wet = {indoors_kept(vehicle, event.at) ? "limits.unsure-all" : "limits.indoors-short"};
      } else {
        continue;
      }
    }
    steps_[piece.id].push_back(
        {event.seq, std::string{step_name(asked.milestone)}, known.probability, std::move(known.still_wet)});
  }
}

std::vector<EarlyStep> EarlySteps::of(PieceId piece, const Shop& shop) const {
  const auto found = steps_.find(piece);
  if (found == steps_.end()) {
    return {};
  }
  auto steps = found->second;
  std::erase_if(steps, [&](const EarlyStep& step) { return shop.superseded(step.event); });
  return steps;
}

}  // namespace dryclock::engine
