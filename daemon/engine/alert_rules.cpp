#include "engine/alert_rules.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <string_view>

#include "domain/milestones.hpp"
#include "domain/names.hpp"
#include "engine/facts.hpp"
#include "engine/minutes.hpp"
#include "engine/solvent_watch.hpp"
#include "models/humid_air.hpp"

namespace dryclock::engine {
namespace {

using models::Milestone;

// Hours to go are looked at this often: a night's pace does not turn within minutes, and it spares work.
constexpr Millis pace_every = std::chrono::minutes{10};
// The alert is over when the vehicle would be dry with this much of the time to spare.
constexpr double pace_clear = 0.9;
// A stepped clock is looked into once; after a day it is history.
constexpr Millis stale_after = std::chrono::hours{24};

constexpr Millis at_once{0};
// Where nothing measures it: the vapour's volume hardly depends on it.
constexpr double usual_air_c = 21.0;

// Of a value that is `by` beyond its limit. Unwatched it would stay unknown for good: an open alert is over.
Condition beyond(bool watched, std::optional<double> by, double hysteresis) {
  return !watched             ? Condition::over
         : !by                ? Condition::unknown
         : *by > 0.0          ? Condition::holds
         : *by <= -hysteresis ? Condition::over
                              : Condition::between;
}

bool has_edge(const PiecePlan& piece) {
  return std::any_of(piece.spec.zones.begin(), piece.spec.zones.end(),
                     [](const auto& zone) { return zone.kind == models::ZoneKind::edge; });
}

// Whether the step that this milestone allows is still to be done.
bool is_awaited(const PiecePlan& piece, Milestone which) {
  if (piece.ended) {
    return false;
  }
  switch (which) {
    case Milestone::wrap_ready:
      return has_edge(piece) && !piece.wrapped;
    case Milestone::trim_ready:
      return has_edge(piece) && !piece.trimmed;
    case Milestone::refit_ready:
      return !piece.refitted;
    case Milestone::dry:
      break;
  }
  return false;
}

}  // namespace

std::string news_subject(PieceId piece, Milestone which) {
  return fmt::format("{}:{}", piece, name_of(which));
}

struct AlertRules::AlertContext {
  OpenAlerts& alerts;
  OpenAlerts::Rows& rows;
  Time now;

  // `what` is only made when it is needed.
  template <class What>
  void follow(AlertRule rule, const std::string& subject, Condition condition, Millis dwell, What&& what,
              std::optional<AlertLevel> level = {}) {
    if (alerts.follow(rule, subject, condition, now, dwell, rows)) {
      raise(rule, subject, what(), level);
    }
  }
  void raise(AlertRule rule, const std::string& subject, Fact what, std::optional<AlertLevel> level = {}) {
    alerts.raise(rule, subject, std::move(what), usual_advice(rule), now, rows, level);
  }
};

void AlertRules::judge(const Facts& facts, OpenAlerts& alerts, OpenAlerts::Rows& rows) const {
  AlertContext context{alerts, rows, facts.now};
  for (const auto& bay : bays_) {
    judge_bay(bay, facts, context);
    judge_solvent(bay, facts, context);
  }
  judge_sensors(facts, context);
  for (const auto& [id, vehicle] : facts.shop.vehicles()) {
    if (Shop::is_open(vehicle)) {
      judge_dew(vehicle, facts, context);
      judge_pace(vehicle, facts, context);
      judge_slip(vehicle, facts, context);
    }
  }
  clear_done(facts, context);
}

void AlertRules::judge_bay(const BaySetup& bay, const Facts& facts, AlertContext& context) const {
  const BayAir* air = facts.bays.find(bay.name);
  const auto present = air != nullptr ? air->present(facts.now) : PresentAir{};
  // Nobody is woken for an empty bay.
  const auto level = facts.shop.stands_in(bay.name) ? AlertLevel::urgent : AlertLevel::warning;
  const auto watched = [&](const std::optional<double>& limit, Quantity quantity) {
    return limit && !bay.gone && facts.screen.reads(bay.name, quantity);
  };
  const double coldest = bay.cold_below_c.value_or(0.0);
  const auto too_cold = present.air_c ? std::optional{coldest - *present.air_c} : std::nullopt;
  context.follow(
      AlertRule::bay_cold, bay.name,
      beyond(watched(bay.cold_below_c, Quantity::air_temperature), too_cold, settings_.cold_hysteresis_c),
      settings_.dwell,
      [&]() -> Fact {
        return {"alerts.bay-cold",
                {say::text("bay", bay.name), say::celsius("air", *present.air_c),
                 say::celsius("limit", coldest), say::span("for", settings_.dwell)}};
      },
      level);
  const double dampest = bay.damp_above_pct.value_or(0.0);
  const auto too_damp = present.rh_pct ? std::optional{*present.rh_pct - dampest} : std::nullopt;
  context.follow(
      AlertRule::bay_damp, bay.name,
      beyond(watched(bay.damp_above_pct, Quantity::relative_humidity), too_damp,
             settings_.damp_hysteresis_pct),
      settings_.dwell,
      [&]() -> Fact {
        return {"alerts.bay-damp",
                {say::text("bay", bay.name), say::humidity("air", *present.rh_pct),
                 say::humidity("limit", dampest), say::span("for", settings_.dwell)}};
      },
      level);
}

// What is in the air is there at once: no dwell. It is over an hour after the last of it was sprayed.
void AlertRules::judge_solvent(const BaySetup& bay, const Facts& facts, AlertContext& context) const {
  const BayAir* air = facts.bays.find(bay.name);
  const auto present = air != nullptr ? air->present(facts.now) : PresentAir{};
  const auto warning =
      solvent_warning(bay, facts.shop, settings_, present.air_c.value_or(usual_air_c), facts.now);
  if (!warning) {
    context.alerts.clear(AlertRule::solvent, bay.name, facts.now, context.rows);
    return;
  }
  context.alerts.restate(AlertRule::solvent, bay.name, warning->what, context.rows);
  context.alerts.raise(AlertRule::solvent, bay.name, warning->what, warning->advice, facts.now, context.rows);
}

// Silence is its own dwell, so the alert stands from the very moment it was complete.
void AlertRules::judge_silence(const Screen::Sensor& sensor, const Facts& facts,
                               AlertContext& context) const {
  const Time since = sensor.heard.value_or(std::max(facts.started, sensor.since));
  const Time due = since + settings_.silent_after;
  if (due > facts.now) {
    context.alerts.clear(AlertRule::sensor_silent, sensor.name, sensor.heard.value_or(facts.now),
                         context.rows);
    return;
  }
  context.alerts.raise(AlertRule::sensor_silent, sensor.name,
                       {sensor.heard ? "alerts.sensor-silent" : "alerts.sensor-unheard",
                        {say::text("sensor", sensor.name), say::text("bay", sensor.bay),
                         say::span("for", settings_.silent_after)}},
                       usual_advice(AlertRule::sensor_silent), due, context.rows);
}

void AlertRules::judge_sensors(const Facts& facts, AlertContext& context) const {
  const auto condition = [](bool holds) { return holds ? Condition::holds : Condition::over; };
  for (const auto& entry : facts.screen.by_name()) {
    const Screen::Sensor& sensor = entry.second;
    const std::string& name = sensor.name;
    judge_silence(sensor, facts, context);
    const auto odd = [&](const char* key) -> Fact {
      return {key,
              {say::text("sensor", name),
               say::word("quantity", "words.quantity-" + std::string{name_of(sensor.odd_quantity)}),
               say::number("value", traits(sensor.odd_quantity).measure, rounded_to(sensor.odd_value, 1))}};
    };
    // Hours of the very same value are dwell enough.
    context.follow(AlertRule::sensor_stuck, name, condition(sensor.stuck), at_once,
                   [&] { return odd("alerts.sensor-stuck"); });
    context.follow(AlertRule::sensor_implausible, name, condition(sensor.implausible), settings_.dwell,
                   [&] { return odd("alerts.sensor-implausible"); });
    context.follow(AlertRule::sensor_skewed, name, condition(sensor.skewed), settings_.dwell, [&]() -> Fact {
      return {"alerts.sensor-skewed", {say::text("sensor", name)}};
    });
  }
}

// Dew needs no time to form: no dwell. ISO 8502-4 asks for a surface at least 3 K above the dew point before
// coating; the same margin here.
void AlertRules::judge_dew(const Vehicle& vehicle, const Facts& facts, AlertContext& context) const {
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

void AlertRules::judge_pace(const Vehicle& vehicle, const Facts& facts, AlertContext& context) const {
  const auto& plan = vehicle.plan;
  if (facts.now.time_since_epoch() % pace_every != Millis{0} || plan.pieces.empty()) {
    return;
  }
  const std::string subject = std::to_string(plan.id);
  const BayAir* air = facts.bays.find(plan.bay_now());
  const auto present = air != nullptr ? air->present(facts.now) : PresentAir{};
  if (!plan.hand_over || *plan.hand_over <= facts.now) {
    context.alerts.clear(AlertRule::pace_low, subject, facts.now, context.rows);
    return;
  }
  double needed = 0.0;
  double pace = 1e9;
  bool any = false;
  for (const auto& piece : plan.pieces) {
    const auto* track = vehicle.track.piece(piece.id);
    if (piece.ended || track == nullptr || !track->piece) {
      continue;
    }
    any = true;
    if (track->announced[static_cast<std::size_t>(Milestone::dry)]) {
      continue;
    }
    pace = std::min(pace, track->pace);
    for (const auto& zone : track->piece->view().zones) {
      needed = std::max(needed, zone.hours_to_go.likely);
    }
  }
  const double left = hours(*plan.hand_over - facts.now);
  const double takes = needed <= 0.0 ? 0.0 : pace > 0.0 ? needed / pace : 1e9;
  const auto condition = !any || !present.air_c || !present.rh_pct ? Condition::unknown
                         : takes > left                            ? Condition::holds
                         : takes <= pace_clear * left              ? Condition::over
                                                                   : Condition::between;
  context.follow(AlertRule::pace_low, subject, condition, settings_.dwell, [&]() -> Fact {
    return {pace > 0.0 ? "alerts.pace-low" : "alerts.pace-none",
            {say::text("vehicle", plan.reference), say::text("bay", plan.bay_now()),
             say::figure("needed", Measure::figure, needed), say::figure("pace", Measure::figure, pace),
             say::figure("takes", Measure::hours, takes), say::figure("left", Measure::hours, left)}};
  });
}

void AlertRules::judge_slip(const Vehicle& vehicle, const Facts& facts, AlertContext& context) const {
  const auto& plan = vehicle.plan;
  const std::string subject = std::to_string(plan.id);
  const auto* answer = facts.outlooks.answer(plan.id);
  if (!plan.hand_over || vehicle.track.release_announced()) {
    context.alerts.clear(AlertRule::estimate_slipped, subject, facts.now, context.rows);
    return;
  }
  if (answer == nullptr) {
    return;  // no outlook yet: what is open stays open
  }
  const auto& likely = answer->release.likely;
  const Millis late = likely ? *likely - *plan.hand_over : Millis::max();
  const auto condition = late > settings_.slip_margin ? Condition::holds
                         : late <= Millis{0}          ? Condition::over
                                                      : Condition::between;
  const auto what = [&]() -> Fact {
    return likely ? Fact{"alerts.estimate-slipped",
                         {say::text("vehicle", plan.reference), span_value("late", late)}}
                  : Fact{"alerts.estimate-beyond", {say::text("vehicle", plan.reference)}};
  };
  if (condition == Condition::holds && context.alerts.is_open(AlertRule::estimate_slipped, subject)) {
    context.alerts.restate(AlertRule::estimate_slipped, subject, what(), context.rows);
  }
  context.follow(AlertRule::estimate_slipped, subject, condition, settings_.dwell, what);
}

void AlertRules::announce(const MilestoneRow& row, const Shop& shop, Time now, OpenAlerts& alerts,
                          OpenAlerts::Rows& rows) const {
  if (traits(row.which).done == nullptr) {
    return;  // no step waits for it
  }
  const std::string subject = news_subject(row.piece, row.which);
  const auto* piece = shop.piece(row.piece);
  if (!row.announced || piece == nullptr || !is_awaited(*piece, row.which)) {
    alerts.clear(AlertRule::piece_ready, subject, now, rows);
    return;
  }
  alerts.raise(AlertRule::piece_ready, subject,
               {"alerts.piece-ready",
                {say::text("vehicle", shop.vehicle_of(row.piece)->plan.reference),
                 say::fact("piece", piece_fact(piece->lay.panel, piece->lay.part, piece->lay.parts)),
                 say::word("ready", "words.ready-" + std::string{name_of(row.which)})}},
               usual_advice(AlertRule::piece_ready), now, rows);
}

void AlertRules::announce(const ReleaseRow& row, const Shop& shop, Time now, OpenAlerts& alerts,
                          OpenAlerts::Rows& rows) const {
  const std::string subject = std::to_string(row.vehicle);
  const auto* vehicle = shop.vehicle(row.vehicle);
  if (!row.announced || vehicle == nullptr || !Shop::is_open(*vehicle)) {
    alerts.clear(AlertRule::release_ready, subject, now, rows);
    return;
  }
  alerts.raise(AlertRule::release_ready, subject,
               {"alerts.release-ready", {say::text("vehicle", vehicle->plan.reference)}},
               usual_advice(AlertRule::release_ready), now, rows);
}

// What concerned a step that is done, a vehicle that has gone or a bay nobody knows is over.
void AlertRules::clear_done(const Facts& facts, AlertContext& context) const {
  const auto clear_where = [&](std::initializer_list<AlertRule> rules, auto&& is_over) {
    for (const auto rule : rules) {
      for (const auto& subject : context.alerts.subjects(rule)) {
        if (is_over(rule, subject)) {
          context.alerts.clear(rule, subject, facts.now, context.rows);
        }
      }
    }
  };
  clear_where({AlertRule::piece_ready}, [&](AlertRule /*rule*/, const std::string& subject) {
    const auto which = from_name<Milestone>(std::string_view{subject}.substr(subject.find(':') + 1));
    const PieceId id = std::atoll(subject.c_str());
    const auto* piece = facts.shop.piece(id);
    return piece == nullptr || !which || !is_awaited(*piece, *which) ||
           !Shop::is_open(*facts.shop.vehicle_of(id));
  });
  clear_where({AlertRule::release_ready, AlertRule::dew, AlertRule::pace_low, AlertRule::estimate_slipped},
              [&](AlertRule /*rule*/, const std::string& subject) {
                const auto* vehicle = facts.shop.vehicle(std::atoll(subject.c_str()));
                return vehicle == nullptr || !Shop::is_open(*vehicle);
              });
  // A bay that went before the journal's first settings is not even known as gone.
  clear_where({AlertRule::bay_cold, AlertRule::bay_damp, AlertRule::solvent},
              [&](AlertRule /*rule*/, const std::string& subject) {
                return std::ranges::find(bays_, subject, &BaySetup::name) == bays_.end();
              });
  clear_where({AlertRule::clock_stepped, AlertRule::settings_changed},
              [&](AlertRule rule, const std::string& subject) {
                const auto* alert = context.alerts.find(alert_id(rule, subject));
                return alert->acknowledged || facts.now - alert->raised >= stale_after;
              });
}

}  // namespace dryclock::engine
