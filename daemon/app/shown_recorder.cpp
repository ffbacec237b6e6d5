#include "app/shown_recorder.hpp"

#include <algorithm>
#include <charconv>
#include <cmath>

#include "domain/milestones.hpp"

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

ShownMilestone shown(const MilestoneView& view) {
  if (view.announced) {
    return {.probability = view.probability, .announced = view.announced, .by_word = view.by_word};
  }
  return {.probability = view.probability,
          .look = view.look,
          .expected = view.expected,
          .limiting = view.limiting_zone,
          .held_by = view.held_by.words};
}

ShownMilestone shown_release(const VehicleSummary& vehicle) {
  if (vehicle.release_ready) {
    return {.probability = vehicle.release_probability, .announced = vehicle.release_ready};
  }
  return {.probability = vehicle.release_probability,
          .look = vehicle.release_look,
          .expected = vehicle.release_expected,
          .held_by = vehicle.held_by.words};
}

ShownPiece shown(const PieceSummary& piece) {
  ShownPiece out;
  out.piece = piece.id;
  for (std::size_t k = 0; k < models::milestone_kinds; ++k) {
    out.milestones[k] = shown(piece.milestones[k]);
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
  if (std::max(*a, *b) < now + steps.expected) {
    return true;  // about now, and still so
  }
  const double ahead = seconds_between(now, *b) * steps.expected_share;
  return near(seconds_between(*a, *b), 0.0,
              std::max(ahead, std::chrono::duration<double>(steps.expected).count()));
}

bool near(const Spread& a, const Spread& b, Time now) {
  return near(a.early, b.early, now) && near(a.likely, b.likely, now) && near(a.late, b.late, now);
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

// Takes out of `now` what `last` said already, and notes the rest there.
void lean(std::optional<ShownMilestone>& now, std::optional<ShownMilestone>& last, Time at) {
  now->held_by.clear();
  if (!last || now->announced != last->announced || now->look != last->look ||
      now->by_word != last->by_word) {
    last = now;
    return;
  }
  const auto keep = [](auto& value, auto& before, bool same) {
    if (same) {
      value.reset();
    } else {
      before = value;
    }
  };
  const bool moved = now->expected && !(last->expected && near(*now->expected, *last->expected, at));
  keep(now->expected, last->expected, !moved);
  keep(now->limiting, last->limiting, now->limiting == last->limiting);
  const bool same_chance = near(now->probability, last->probability, ShownSteps{}.probability);
  if (same_chance && !now->expected && !now->limiting) {
    now.reset();
  } else {
    last->probability = now->probability;
  }
}

// Likewise of a piece. False: nothing is left.
bool lean(ShownPiece& now, ShownPiece& last, const PieceSummary& piece,
          std::bitset<models::milestone_kinds> asked, Time at) {
  bool any = false;
  for (std::size_t k = 0; k < models::milestone_kinds; ++k) {
    auto& milestone = now.milestones[k];
    auto& before = last.milestones[k];
    if (asked[k]) {
      before = milestone;
    } else if (done_at(piece, static_cast<Milestone>(k)) || !piece.milestones[k].needed) {
      milestone.reset();
    } else {
      lean(milestone, before, at);
    }
    any = any || milestone.has_value();
  }
  const auto keep = [&any](auto& value, auto& before, auto near_one) {
    if (near(value, before, near_one)) {
      value.reset();
    } else {
      before = value;
      any = true;
    }
  };
  keep(now.water, last.water, water_near);
  keep(now.bond, last.bond, bond_near);
  return any;
}

ShownAlert shown(const AlertRow& row) {
  const bool raised = row.step == AlertStep::raised;
  const bool with_text = raised || row.step == AlertStep::restated;
  return {row.alert.rule, row.alert.subject, row.step, raised ? std::optional{row.alert.level} : std::nullopt,
          with_text ? row.alert.what.words : ""};
}

using Milestones = std::bitset<models::milestone_kinds>;

Milestones only(Milestone which) {
  return Milestones{}.set(static_cast<std::size_t>(which));
}

// What was looked at has all that somebody waits for.
Milestones milestones_of(const EventDetail& detail, const PieceSummary& piece) {
  if (const auto asks = asked_by(detail)) {
    return only(asks->milestone);
  }
  Milestones out;
  for (std::size_t k = 0; k < models::milestone_kinds; ++k) {
    out[k] = piece.milestones[k].needed;
  }
  return out;
}

Deed release_of(const VehicleSummary& vehicle) {
  Deed deed{vehicle.id, {true, {}}};
  for (const auto& piece : vehicle.pieces) {
    if (is_on(piece)) {
      deed.asked.pieces[piece.id] = only(Milestone::may_leave);
    }
  }
  return deed;
}

}  // namespace

std::optional<Deed> deed_of(const EventDetail& detail, const Board& board) {
  return std::visit(
      [&]<class Event>(const Event& event) -> std::optional<Deed> {
        if constexpr (std::same_as<Event, EdgeWrapped> || std::same_as<Event, Trimmed> ||
                      std::same_as<Event, Refitted> || std::same_as<Event, Inspected>) {
          const auto* vehicle = vehicle_with(board, event.piece);
          if (vehicle == nullptr) {
            return std::nullopt;
          }
          const auto& piece = *std::ranges::find(vehicle->pieces, event.piece, &PieceSummary::id);
          return Deed{vehicle->id, {false, {{piece.id, milestones_of(detail, piece)}}}};
        } else if constexpr (std::same_as<Event, Released>) {
          const auto* vehicle = vehicle_in(board, event.vehicle);
          return vehicle == nullptr ? std::nullopt : std::optional{release_of(*vehicle)};
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

Shown ShownRecorder::row(ShownWhy why, const VehicleSummary& vehicle, const Asked& asked, Time now) {
  auto& last = last_[vehicle.id];
  Shown out = empty_row(why, now, vehicle.id);
  out.vehicle->release = shown_release(vehicle);
  if (asked.release) {
    last.release = out.vehicle->release;
  } else {
    lean(out.vehicle->release, last.release, now);
  }
  if (const auto& chance = vehicle.hand_over_probability;
      chance &&
      !(last.hand_over_probability && near(*chance, *last.hand_over_probability, ShownSteps{}.probability))) {
    out.vehicle->hand_over_probability = last.hand_over_probability = chance;
  }
  for (const auto& piece : vehicle.pieces) {
    const auto about = asked.pieces.find(piece.id);
    const bool is_asked = about != asked.pieces.end();
    if (is_asked || (why == ShownWhy::hourly && is_on(piece))) {
      auto one = shown(piece);
      if (lean(one, last.pieces[piece.id], piece, is_asked ? about->second : Milestones{}, now)) {
        out.vehicle->pieces.push_back(std::move(one));
      }
    }
  }
  return out;
}

Shown ShownRecorder::deed(const Deed& deed, const Board& board) {
  return row(ShownWhy::deed, *vehicle_in(board, deed.vehicle), deed.asked, board.now);
}

std::vector<Shown> ShownRecorder::changes(const Effects& effects, const Board& board) {
  struct Change {
    bool announced = false;
    Asked asked;
    std::vector<ShownAlert> alerts;
  };
  std::map<VehicleId, Change> changes;
  for (const auto& effect : effects.milestones) {
    if (const auto* vehicle = vehicle_with(board, effect.piece)) {
      auto& change = changes[vehicle->id];
      change.announced |= effect.word != Word::taken_back;
      change.asked.pieces[effect.piece] |= only(effect.which);
    }
  }
  for (const auto& effect : effects.releases) {
    changes[effect.vehicle].announced |= effect.word != Word::taken_back;
    changes[effect.vehicle].asked.release = true;
  }
  for (const auto& effect : effects.alerts) {
    auto alert = shown(effect);
    changes[vehicle_of(alert.rule, alert.subject, board)].alerts.push_back(std::move(alert));
  }
  std::vector<Shown> out;
  for (auto& [id, change] : changes) {
    const auto* vehicle = vehicle_in(board, id);
    const bool alone = !change.asked.release && change.asked.pieces.empty();
    const auto why = change.announced ? ShownWhy::announced : ShownWhy::taken_back;
    out.push_back(alone || vehicle == nullptr ? empty_row(ShownWhy::alert, board.now, id)
                                              : row(why, *vehicle, change.asked, board.now));
    out.back().alerts = std::move(change.alerts);
  }
  return out;
}

std::vector<Shown> ShownRecorder::hourly(const Board& board) {
  std::vector<Shown> out;
  for (const auto& vehicle : board.vehicles) {
    if (vehicle.released) {
      last_.erase(vehicle.id);
    } else {
      out.push_back(row(ShownWhy::hourly, vehicle, {}, board.now));
    }
  }
  return out;
}

}  // namespace dryclock::app
