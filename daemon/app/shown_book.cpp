#include "app/shown_book.hpp"

#include <algorithm>
#include <charconv>
#include <cmath>

namespace dryclock::app {
namespace {

using models::Milestone;
using models::Quantiles;

const VehicleSummary* vehicle_with(const Board& board, PieceId piece) {
  const auto found = std::ranges::find_if(board.vehicles, [&](const VehicleSummary& vehicle) {
    return std::ranges::find(vehicle.pieces, piece, &PieceSummary::id) != vehicle.pieces.end();
  });
  return found == board.vehicles.end() ? nullptr : &*found;
}

const VehicleSummary* vehicle_in(const Board& board, VehicleId id) {
  const auto found = std::ranges::find(board.vehicles, id, &VehicleSummary::id);
  return found == board.vehicles.end() ? nullptr : &*found;
}

bool is_on(const PieceSummary& piece) {
  return !piece.removed && !piece.replaced_by;
}

bool is_done(const PieceSummary& piece, std::size_t milestone) {
  switch (static_cast<Milestone>(milestone)) {
    case Milestone::wrap_ready:
      return piece.wrapped.has_value();
    case Milestone::trim_ready:
      return piece.trimmed.has_value();
    case Milestone::refit_ready:
      return piece.refitted.has_value();
    case Milestone::dry:
      break;
  }
  return false;
}

ShownMilestone shown(const MilestoneView& view, const models::PieceView& state) {
  ShownMilestone out{view.probability, view.announced, view.expected, {}, view.held_by};
  const std::size_t limiting = state.limiting_zone[static_cast<std::size_t>(view.which)];
  if (!view.announced && limiting < state.zones.size()) {
    out.limiting = state.zones[limiting].kind;
  }
  return out;
}

ShownMilestone shown_release(const VehicleSummary& vehicle) {
  return {vehicle.release_probability, vehicle.release_ready, vehicle.release_expected, {}, vehicle.held_by};
}

ShownPiece shown(const PieceSummary& piece) {
  ShownPiece out;
  out.piece = piece.id;
  for (std::size_t k = 0; k < models::milestone_kinds; ++k) {
    out.milestones[k] = shown(piece.milestones[k], piece.state);
  }
  for (const auto& zone : piece.state.zones) {
    if (!out.water || zone.water.likely > out.water->likely) {
      out.water = zone.water;
    }
    if (!out.bond || zone.bond.likely < out.bond->likely) {
      out.bond = zone.bond;
    }
  }
  return out;
}

bool near(double a, double b, double step) {
  return std::abs(a - b) < step;
}

bool near(const std::optional<Time>& a, const std::optional<Time>& b, Time now) {
  constexpr ShownSteps steps;
  if (!a || !b) {
    return a.has_value() == b.has_value();
  }
  const double ahead = seconds_between(now, *b) * steps.expected_share;
  return near(seconds_between(*a, *b), 0.0,
              std::max(ahead, std::chrono::duration<double>(steps.expected).count()));
}

bool near(const ShownMilestone& a, const ShownMilestone& b, Time now) {
  return near(a.probability, b.probability, ShownSteps{}.probability) && a.announced == b.announced &&
         a.limiting == b.limiting && near(a.expected.early, b.expected.early, now) &&
         near(a.expected.likely, b.expected.likely, now) && near(a.expected.late, b.expected.late, now);
}

template <class Near>
bool near(const std::optional<Quantiles>& a, const std::optional<Quantiles>& b, Near near_one) {
  if (!a || !b) {
    return a.has_value() == b.has_value();
  }
  return near_one(a->low, b->low) && near_one(a->likely, b->likely) && near_one(a->high, b->high);
}

bool water_near(double a, double b) {
  constexpr ShownSteps steps;
  return near(a, b, std::max(steps.water_g_m2, steps.water_share * b));
}
bool bond_near(double a, double b) {
  return near(a, b, ShownSteps{}.bond);
}

// Takes out of `now` what `last` told already, and notes the rest there.
bool lean(ShownPiece& now, ShownPiece& last, const PieceSummary& piece, Time at) {
  bool any = false;
  for (std::size_t k = 0; k < models::milestone_kinds; ++k) {
    auto& milestone = now.milestones[k];
    auto& told = last.milestones[k];
    if (is_done(piece, k) || (told && near(*milestone, *told, at))) {
      milestone.reset();
    } else {
      milestone->held_by.clear();
      told = milestone;
      any = true;
    }
  }
  const auto keep = [&any](auto& value, auto& told, auto near_one) {
    if (near(value, told, near_one)) {
      value.reset();
    } else {
      told = value;
      any = true;
    }
  };
  keep(now.water, last.water, water_near);
  keep(now.bond, last.bond, bond_near);
  return any;
}

ShownAlert shown(const AlertRow& row) {
  const bool told = row.step == AlertStep::raised || row.step == AlertStep::restated;
  return {row.alert.rule, row.alert.subject, row.alert.level, row.step, told ? row.alert.text : ""};
}

}  // namespace

std::optional<Deed> deed_of(const EventDetail& detail, const Board& board) {
  const auto of_piece = [&](PieceId piece) -> std::optional<Deed> {
    const auto* vehicle = vehicle_with(board, piece);
    return vehicle == nullptr ? std::nullopt : std::optional{Deed{vehicle->id, piece}};
  };
  return std::visit(
      [&]<class Event>(const Event& event) -> std::optional<Deed> {
        if constexpr (std::same_as<Event, EdgeWrapped> || std::same_as<Event, Trimmed> ||
                      std::same_as<Event, Refitted> || std::same_as<Event, Inspected>) {
          return of_piece(event.piece);
        } else if constexpr (std::same_as<Event, Released>) {
          return vehicle_in(board, event.vehicle) == nullptr ? std::nullopt
                                                             : std::optional{Deed{event.vehicle, 0}};
        } else {
          return std::nullopt;
        }
      },
      detail);
}

VehicleId vehicle_of(AlertRule rule, const std::string& subject, const Board& board) {
  Seq number = 0;
  std::from_chars(subject.data(), subject.data() + subject.size(), number);
  switch (rule) {
    case AlertRule::piece_ready: {
      const auto* vehicle = vehicle_with(board, number);
      return vehicle == nullptr ? 0 : vehicle->id;
    }
    case AlertRule::dew:
    case AlertRule::pace_low:
    case AlertRule::estimate_slipped:
    case AlertRule::release_ready:
      return number;
    default:
      return 0;
  }
}

Shown ShownBook::exact(ShownWhy why, const VehicleSummary& vehicle, const Board& board,
                       const std::vector<PieceId>& pieces) {
  auto& last = last_[vehicle.id];
  last.release = shown_release(vehicle);
  last.hand_over_probability = vehicle.hand_over_probability;
  ShownVehicle out{vehicle.id, last.release, last.hand_over_probability, {}};
  for (const auto& piece : vehicle.pieces) {
    if (std::ranges::find(pieces, piece.id) != pieces.end()) {
      out.pieces.push_back(last.pieces[piece.id] = shown(piece));
    }
  }
  return {why, board.now, std::move(out), {}, {}};
}

Shown ShownBook::deed(const Deed& deed, const Board& board) {
  const auto& vehicle = *vehicle_in(board, deed.vehicle);
  std::vector<PieceId> pieces;
  for (const auto& piece : vehicle.pieces) {
    if (piece.id == deed.piece || (deed.piece == 0 && is_on(piece))) {
      pieces.push_back(piece.id);
    }
  }
  return exact(ShownWhy::deed, vehicle, board, pieces);
}

std::vector<Shown> ShownBook::changes(const Effects& effects, const Board& board) {
  struct Change {
    bool announced = false;
    std::vector<PieceId> pieces;
  };
  std::map<VehicleId, Change> changes;
  for (const auto& row : effects.milestones) {
    if (const auto* vehicle = vehicle_with(board, row.piece)) {
      auto& change = changes[vehicle->id];
      change.announced |= row.announced.has_value();
      change.pieces.push_back(row.piece);
    }
  }
  for (const auto& row : effects.releases) {
    changes[row.vehicle].announced |= row.announced.has_value();
  }
  std::vector<Shown> out;
  for (const auto& [id, change] : changes) {
    if (const auto* vehicle = vehicle_in(board, id)) {
      out.push_back(exact(change.announced ? ShownWhy::announced : ShownWhy::taken_back, *vehicle, board,
                          change.pieces));
    }
  }
  std::map<VehicleId, std::vector<ShownAlert>> alerts;
  for (const auto& row : effects.alerts) {
    auto alert = shown(row);
    alerts[vehicle_of(alert.rule, alert.subject, board)].push_back(std::move(alert));
  }
  for (auto& [id, told] : alerts) {
    const auto vehicle = id == 0 ? std::nullopt : std::optional{ShownVehicle{id, {}, {}, {}}};
    out.push_back({ShownWhy::alert, board.now, vehicle, std::move(told), {}});
  }
  return out;
}

Shown ShownBook::changed(const VehicleSummary& vehicle, Time now) {
  auto& last = last_[vehicle.id];
  ShownVehicle out{vehicle.id, {}, {}, {}};
  if (auto release = shown_release(vehicle); !last.release || !near(release, *last.release, now)) {
    release.held_by.clear();
    out.release = last.release = release;
  }
  const double chance = vehicle.hand_over_probability;
  if (!last.hand_over_probability || !near(chance, *last.hand_over_probability, ShownSteps{}.probability)) {
    out.hand_over_probability = last.hand_over_probability = chance;
  }
  for (const auto& piece : vehicle.pieces) {
    auto one = shown(piece);
    if (is_on(piece) && lean(one, last.pieces[piece.id], piece, now)) {
      out.pieces.push_back(std::move(one));
    }
  }
  return {ShownWhy::hourly, now, std::move(out), {}, {}};
}

std::vector<Shown> ShownBook::hourly(const Board& board) {
  std::vector<Shown> out;
  for (const auto& vehicle : board.vehicles) {
    if (vehicle.released) {
      last_.erase(vehicle.id);
    } else {
      out.push_back(changed(vehicle, board.now));
    }
  }
  return out;
}

}  // namespace dryclock::app
