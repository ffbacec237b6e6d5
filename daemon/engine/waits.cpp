#include "engine/waits.hpp"

#include <algorithm>

#include "domain/piece_fact.hpp"

namespace dryclock::engine {
namespace {

// A look that nobody took for so long is overdue. Common practice, no source: twice a morning's round.
constexpr Millis overdue_after = std::chrono::hours{4};

Wait of_piece(WaitKind kind, const VehicleSummary& vehicle, const PieceSummary& piece, Time since,
              const char* key) {
  return {kind,
          vehicle.id,
          piece.id,
          {},
          since,
          {key,
           {say::fact("piece", piece_fact(name_of_piece(piece))), say::text("vehicle", vehicle.reference),
            say::time("at", since)}}};
}

bool looked_at_since(const PiecePlan& plan, Time t) {
  return std::ranges::any_of(plan.actions, [&](const PieceAction& action) {
    return action.kind == PieceAction::Kind::inspect && action.at >= t;
  });
}

void add_piece(const VehicleSummary& vehicle, const PieceSummary& piece, const Shop& shop, Time now,
               std::vector<Wait>& out) {
  if (piece.next && piece.next->state == StepState::look && now - *piece.next->since >= overdue_after) {
    out.push_back(of_piece(WaitKind::look, vehicle, piece, *piece.next->since, "waits.look"));
  }
  const auto* plan = shop.piece(piece.id);
  const Event* last = nullptr;
  for (const auto& step : piece.early_steps) {
    const auto* event = shop.event(step.event);
    last = event != nullptr && (last == nullptr || event->at > last->at) ? event : last;
  }
  if (last != nullptr && plan != nullptr && !looked_at_since(*plan, last->at)) {
    out.push_back(of_piece(WaitKind::early, vehicle, piece, last->at, "waits.early"));
  }
}

}  // namespace

std::vector<Wait> waits_of(const Board& board, const Shop& shop) {
  std::vector<Wait> out;
  for (const auto& vehicle : board.vehicles) {
    for (const auto& piece : vehicle.pieces) {
      if (!vehicle.released && !piece.removed && !piece.replaced_by) {
        add_piece(vehicle, piece, shop, board.now, out);
      }
    }
  }
  for (const auto& alert : board.alerts) {
    if (alert.rule == AlertRule::sensor_silent) {
      out.push_back({WaitKind::silent, {}, {}, alert.subject, alert.raised, alert.what});
    }
  }
  std::ranges::stable_sort(out, {}, &Wait::since);
  return out;
}

}  // namespace dryclock::engine
