#include "engine/vehicle_rules.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <string_view>

#include "domain/milestones.hpp"
#include "domain/names.hpp"
#include "domain/piece_fact.hpp"
#include "engine/facts.hpp"
#include "engine/minutes.hpp"
#include "models/humid_air.hpp"

namespace dryclock::engine {
namespace {

using models::Milestone;

// The alert is over when the vehicle would be ready with this much of the time to spare.
constexpr double pace_clear = 0.9;

// Whether the step that this milestone allows is still to be done.
bool is_awaited(const PiecePlan& piece, Milestone which) {
  if (piece.ended || !piece.needed[static_cast<std::size_t>(which)]) {
    return false;
  }
  switch (which) {
    case Milestone::wrap_ready:
      return !piece.wrapped;
    case Milestone::trim_ready:
      return !piece.trimmed;
    case Milestone::refit_ready:
      return !piece.refitted;
    case Milestone::liquid_gone:
    case Milestone::clear:
    case Milestone::may_leave:
      break;
  }
  return false;
}

// Whether a look at it was asked for that nobody has answered.
bool asks_for_look(const PiecePlan& piece, const Calls& calls) {
  const auto& said = calls.of(piece.id);
  for (std::size_t k = 0; k < models::milestone_kinds; ++k) {
    if (said[k].look && !said[k].ready && is_awaited(piece, static_cast<Milestone>(k))) {
      return !piece.looked_at();
    }
  }
  return false;
}

// What there is to do before the vehicle may leave, as the newest outlook has it.
struct ToGo {
  double hours = 0.0;  // standard
  double pace = 1e9;
  bool known = true;
};
ToGo to_go(const Vehicle& vehicle, const Calls& calls, const OutlookAnswer& answer) {
  constexpr auto leave = static_cast<std::size_t>(Milestone::may_leave);
  ToGo out;
  for (const auto& item : answer.pieces) {
    const auto* track = vehicle.track.piece(item.id);
    if (track == nullptr || calls.of(item.id)[leave].ready) {
      continue;
    }
    const auto& standard = item.reach[leave].hours_to_go;
    out.known = out.known && standard.has_value();
    out.hours = std::max(out.hours, standard.value_or(0.0));
    out.pace = std::min(out.pace, track->pace);
  }
  return out;
}

}  // namespace

std::string news_subject(PieceId piece, Milestone which) {
  return fmt::format("{}:{}", piece, name_of(which));
}

std::string look_subject(PieceId piece) {
  return fmt::format("{}:look", piece);
}

// Dew needs no time to form: no dwell. ISO 8502-4 asks for a surface at least 3 K above the dew point before
// coating; the same margin here.
void VehicleRules::judge_dew(const Vehicle& vehicle, const Facts& facts, AlertContext& context) const {
  const std::string subject = std::to_string(vehicle.plan.id);
  const BayAir* air = facts.bays.find(vehicle.plan.bay_now());
  const auto present = air != nullptr ? air->present(facts.now) : PresentAir{};
  const auto panel_c = present.panel_c ? present.panel_c : vehicle.track.panel_c();
  if (!present.air_c || !present.rh_pct || !panel_c) {
    const auto& bay = vehicle.plan.bay_now();
    const bool watched = facts.screen.reads(bay, Quantity::air_temperature) &&
                         facts.screen.reads(bay, Quantity::relative_humidity);
    const auto condition = beyond(watched, {}, 0.0);
    context.follow(AlertRule::dew, subject, condition, at_once, [] { return Fact{}; });
    return;
  }
  const double dew_c = models::dew_point(models::vapour_pressure(models::Celsius{*present.air_c},
                                                                 models::Humidity{*present.rh_pct / 100.0}))
                           .value();
  const double margin = *panel_c - dew_c;
  // Half a kelvin of hysteresis: a panel that warms in the bay leaves the margin for good.
  const auto condition = margin < settings_.dew_margin_k          ? Condition::holds
                         : margin >= settings_.dew_margin_k + 0.5 ? Condition::over
                                                                  : Condition::between;
  context.follow(AlertRule::dew, subject, condition, at_once, [&]() -> Fact {
    return {"alerts.dew",
            {say::text("vehicle", vehicle.plan.reference), say::celsius("panel", *panel_c),
             say::text("bay", vehicle.plan.bay_now()), say::celsius("dew", dew_c),
             say::text("condenses", margin <= 0.0 ? "yes" : "no")}};
  });
}

void VehicleRules::judge_pace(const Vehicle& vehicle, const Facts& facts, AlertContext& context) const {
  const auto& plan = vehicle.plan;
  const std::string subject = std::to_string(plan.id);
  const auto* answer = facts.outlooks.answer(plan.id);
  if (!plan.hand_over || *plan.hand_over <= facts.now) {
    context.alerts.clear(AlertRule::pace_low, subject, facts.now, context.rows);
    return;
  }
  if (answer == nullptr || answer->pieces.empty()) {
    return;  // no outlook yet: what is open stays open
  }
  const BayAir* air = facts.bays.find(plan.bay_now());
  const auto present = air != nullptr ? air->present(facts.now) : PresentAir{};
  const auto go = to_go(vehicle, facts.calls, *answer);
  const double left = hours(*plan.hand_over - facts.now);
  const double takes = go.hours <= 0.0 ? 0.0 : go.pace > 0.0 ? go.hours / go.pace : 1e9;
  const auto condition = !go.known || !present.air_c || !present.rh_pct ? Condition::unknown
                         : takes > left                                 ? Condition::holds
                         : takes <= pace_clear * left                   ? Condition::over
                                                                        : Condition::between;
  context.follow(AlertRule::pace_low, subject, condition, settings_.dwell, [&]() -> Fact {
    return {go.pace > 0.0 ? "alerts.pace-low" : "alerts.pace-none",
            {say::text("vehicle", plan.reference), say::text("bay", plan.bay_now()),
             say::figure("needed", Measure::figure, go.hours), say::figure("pace", Measure::figure, go.pace),
             say::figure("takes", Measure::hours, takes), say::figure("left", Measure::hours, left)}};
  });
}

void VehicleRules::judge_slip(const Vehicle& vehicle, const Facts& facts, AlertContext& context) const {
  const auto& plan = vehicle.plan;
  const std::string subject = std::to_string(plan.id);
  const auto* answer = facts.outlooks.answer(plan.id);
  if (!plan.hand_over || facts.calls.release_of(plan.id).ready) {
    context.alerts.clear(AlertRule::estimate_slipped, subject, facts.now, context.rows);
    return;
  }
  if (answer == nullptr || !answer->hand_over_probability) {
    return;  // no outlook, or no forecast to take it from: what is open stays open
  }
  const auto& announces = answer->release_announces;
  if (!announces && *plan.hand_over > answer->at + looks_ahead) {
    return;  // beyond what is looked at
  }
  const Millis late = announces ? *announces - *plan.hand_over : Millis::max();
  const auto condition = late > settings_.slip_margin ? Condition::holds
                         : late <= Millis{0}          ? Condition::over
                                                      : Condition::between;
  const auto what = [&]() -> Fact {
    return announces ? Fact{"alerts.estimate-slipped",
                            {say::text("vehicle", plan.reference), span_value("late", late)}}
                     : Fact{"alerts.estimate-beyond", {say::text("vehicle", plan.reference)}};
  };
  if (condition == Condition::holds && context.alerts.is_open(AlertRule::estimate_slipped, subject)) {
    context.alerts.restate(AlertRule::estimate_slipped, subject, what(), context.rows);
  }
  context.follow(AlertRule::estimate_slipped, subject, condition, settings_.dwell, what);
}

void VehicleRules::judge(const Facts& facts, OpenAlerts& alerts, OpenAlerts::Rows& rows) const {
  AlertContext context{alerts, rows, facts.now};
  for (const auto& [id, vehicle] : facts.shop.vehicles()) {
    if (Shop::is_open(vehicle)) {
      judge_dew(vehicle, facts, context);
      judge_pace(vehicle, facts, context);
      judge_slip(vehicle, facts, context);
    }
  }
  // What concerned a step that is done, a piece that was looked at, or a vehicle that has gone is over.
  context.clear_where({AlertRule::piece_ready, AlertRule::worth_a_look},
                      [&](AlertRule rule, const std::string& subject) {
                        const auto colon = subject.find(':');
                        if (colon == std::string::npos) {
                          return false;  // of a vehicle
                        }
                        const PieceId id = std::atoll(subject.c_str());
                        const auto* piece = facts.shop.piece(id);
                        if (piece == nullptr || !Shop::is_open(*facts.shop.vehicle_of(id))) {
                          return true;
                        }
                        if (rule == AlertRule::worth_a_look) {
                          return !asks_for_look(*piece, facts.calls);
                        }
                        const auto which = from_name<Milestone>(std::string_view{subject}.substr(colon + 1));
                        return !which || !is_awaited(*piece, *which);
                      });
  context.clear_where({AlertRule::release_ready, AlertRule::dew, AlertRule::pace_low,
                       AlertRule::estimate_slipped, AlertRule::worth_a_look},
                      [&](AlertRule /*rule*/, const std::string& subject) {
                        const auto* vehicle = facts.shop.vehicle(std::atoll(subject.c_str()));
                        return subject.find(':') == std::string::npos &&
                               (vehicle == nullptr || !Shop::is_open(*vehicle));
                      });
}

void announce(const MilestoneRow& row, const Shop& shop, const Calls& calls, AlertContext context) {
  if (traits(row.which).done == nullptr) {
    return;  // no step waits for it
  }
  const auto* piece = shop.piece(row.piece);
  const auto tell = [&](AlertRule rule, const std::string& subject, bool holds, const char* key) {
    if (!holds) {
      context.alerts.clear(rule, subject, context.now, context.rows);
      return;
    }
    context.raise(rule, subject,
                  {key,
                   {say::text("vehicle", shop.vehicle_of(row.piece)->plan.reference),
                    say::fact("piece", piece_fact(name_of_piece(piece->lay))),
                    say::word("ready", "words.ready-" + std::string{name_of(row.which)})}});
  };
  // One look answers for all steps, so it is asked for once, in the name of the first.
  tell(AlertRule::worth_a_look, look_subject(row.piece), piece != nullptr && asks_for_look(*piece, calls),
       "alerts.worth-a-look");
  tell(AlertRule::piece_ready, news_subject(row.piece, row.which),
       piece != nullptr && row.word == Word::ready && is_awaited(*piece, row.which), "alerts.piece-ready");
}

void announce(const ReleaseRow& row, const Shop& shop, AlertContext context) {
  const std::string subject = std::to_string(row.vehicle);
  const auto* vehicle = shop.vehicle(row.vehicle);
  const bool open = vehicle != nullptr && Shop::is_open(*vehicle);
  const auto tell = [&](AlertRule rule, Word word, const char* key) {
    if (!open || row.word != word) {
      context.alerts.clear(rule, subject, context.now, context.rows);
      return;
    }
    context.raise(rule, subject, {key, {say::text("vehicle", vehicle->plan.reference)}});
  };
  tell(AlertRule::worth_a_look, Word::look, "alerts.look-at-vehicle");
  tell(AlertRule::release_ready, Word::ready, "alerts.release-ready");
}

}  // namespace dryclock::engine
