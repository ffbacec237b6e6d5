#include "engine/seen.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace dryclock::engine {
namespace {

using models::Finding;
using models::Sign;
using models::ZoneKind;

bool is_edge(ZoneKind zone) {
  return zone == ZoneKind::edge || zone == ZoneKind::turn;
}

// The wrap; of a piece that was not wrapped the trim.
const PieceAction* turned(const PiecePlan& piece) {
  for (const auto kind : {PieceAction::Kind::wrap, PieceAction::Kind::trim}) {
    const auto found = std::ranges::find(piece.actions, kind, &PieceAction::kind);
    if (found != piece.actions.end()) {
      return &*found;
    }
  }
  return nullptr;
}

bool lifts(const PiecePlan& piece, const PieceAction& turn) {
  const auto seen_later = [&](const PieceAction& action) {
    return action.kind == PieceAction::Kind::inspect && action.at >= turn.at && action.event != turn.event &&
           action.finding == Finding::lifting && is_edge(action.zone);
  };
  return std::ranges::any_of(piece.actions, seen_later) ||
         std::ranges::any_of(piece.rechecks, [](const Rechecked& recheck) {
           return recheck.finding == RecheckFinding::lifting && recheck.zone && is_edge(*recheck.zone);
         });
}

// Done again, or lifting nobody said where: who knows what its edge did.
bool doubtful(const Rechecked& recheck) {
  return recheck.finding == RecheckFinding::redone ||
         (recheck.finding == RecheckFinding::lifting && !recheck.zone);
}

LearntMargin written(const models::Margin& margin) {
  const bool opened = std::isfinite(margin.opened_at);
  return {margin.width, margin.openness, margin.opened,
          opened ? std::optional{margin.opened_at} : std::nullopt};
}

models::Margin read(const LearntMargin& margin) {
  return {margin.width, margin.openness, margin.opened,
          margin.opened_at.value_or(std::numeric_limits<double>::infinity())};
}

std::vector<ZoneLook> looks_of(const VehiclePlan& plan, const PiecePlan& piece, const PieceTrack& track,
                               Time integrated, Millis bridge_after) {
  auto looks = track.looks;
  for (std::size_t i = track.next_action; i < piece.actions.size(); ++i) {
    const auto& action = piece.actions[i];
    if (action.kind == PieceAction::Kind::inspect && action.at - integrated <= bridge_after) {
      look_at(piece, action, track.piece->seconds(), looks);
    }
  }
  const auto edge = edge_sign(plan, piece);
  const auto turn = edge ? track.turned.find(edge->event) : track.turned.end();
  for (std::size_t zone = 0; turn != track.turned.end() && zone < piece.spec.zones.size(); ++zone) {
    if (piece.spec.zones[zone].kind == ZoneKind::edge) {
      looks.push_back({{zone, turn->second, edge->sign}, edge->event});
    }
  }
  std::ranges::stable_sort(looks, {}, [](const ZoneLook& one) { return one.look.seconds; });
  return looks;
}

}  // namespace

std::optional<EdgeSign> edge_sign(const VehiclePlan& plan, const PiecePlan& piece) {
  const auto* turn = piece.has(ZoneKind::edge) ? turned(piece) : nullptr;
  if (turn == nullptr) {
    return std::nullopt;
  }
  if (lifts(piece, *turn)) {
    return EdgeSign{turn->event, turn->at, Sign::lifted};
  }
  const bool pulled = piece.removed || piece.replaced_by;
  if (!plan.released || pulled || std::ranges::any_of(piece.rechecks, doubtful)) {
    return std::nullopt;
  }
  return EdgeSign{turn->event, turn->at, Sign::held};
}

std::vector<LearntPiece> seen_of(const Vehicle& vehicle, const Shop& shop, Millis bridge_after) {
  std::vector<LearntPiece> out;
  for (const auto& piece : vehicle.plan.pieces) {
    const auto* track = vehicle.track.piece(piece.id);
    if (piece.actions.empty() || track == nullptr || !track->piece ||
        track->began - piece.from > bridge_after) {
      continue;
    }
    const auto looks = looks_of(vehicle.plan, piece, *track, *vehicle.track.integrated(), bridge_after);
    if (looks.empty()) {
      continue;
    }
    LearntPiece seen{piece.id, piece.lay.film, piece.measurement, piece.lay.panel, {}};
    for (std::size_t zone = 0; zone < track->piece->zones().size(); ++zone) {
      const auto& laid = track->piece->zones()[zone];
      seen.zones.push_back({laid.kind, laid.usual.value(), written(track->piece->margin(zone)), {}});
    }
    for (const auto& one : looks) {
      const auto* event = shop.event(one.event);
      seen.zones[one.look.zone].seen.push_back(
          {models::seen_at(*track->piece, one.look), event == nullptr ? Time{} : event->at, one.event});
    }
    out.push_back(std::move(seen));
  }
  return out;
}

models::PieceEvidence evidence_of(const LearntPiece& piece, const Shop& shop) {
  models::PieceEvidence evidence;
  const auto* owner = shop.vehicle_of(piece.piece);
  const auto* plan = shop.piece(piece.piece);
  const bool gone = owner != nullptr && plan == nullptr;
  const auto edge = owner == nullptr || plan == nullptr ? std::nullopt : edge_sign(owner->plan, *plan);
  for (const auto& zone : piece.zones) {
    models::ZoneEvidence counts{zone.usual, read(zone.margin), {}};
    for (const auto& one : zone.seen) {
      const auto* event = shop.event(one.event);
      models::Seen seen = one.seen;
      bool stands = !gone && !shop.superseded(one.event) &&
                    (event == nullptr ? one.at : event->at) >= shop.learns_since();
      if (plan != nullptr && models::sort_of(seen.sign) == models::SignSort::hold) {
        stands = stands && edge && edge->event == one.event;
        seen.sign = edge ? edge->sign : seen.sign;
      }
      if (stands) {
        models::add(counts, seen);
      }
    }
    evidence.zones.push_back(std::move(counts));
  }
  return evidence;
}

}  // namespace dryclock::engine
