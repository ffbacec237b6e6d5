#include "engine/alert_rules.hpp"

#include <algorithm>

#include "domain/names.hpp"
#include "engine/facts.hpp"
#include "engine/minutes.hpp"
#include "engine/solvent_watch.hpp"

namespace dryclock::engine {
namespace {

// A stepped clock is looked into once; after a day it is history.
constexpr Millis stale_after = std::chrono::hours{24};

// Where nothing measures it: the vapour's volume hardly depends on it.
constexpr double usual_air_c = 21.0;

}  // namespace

void AlertRules::judge(const Facts& facts, OpenAlerts& alerts, OpenAlerts::Rows& rows) const {
  AlertContext context{alerts, rows, facts.now};
  for (const auto& bay : bays_) {
    judge_bay(bay, facts, context);
    judge_solvent(bay, facts, context);
  }
  judge_sensors(facts, context);
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

// What concerned a bay nobody knows is over, and so is what has been seen or is history.
void AlertRules::clear_done(const Facts& facts, AlertContext& context) const {
  // A bay that went before the journal's first settings is not even known as gone.
  context.clear_where({AlertRule::bay_cold, AlertRule::bay_damp, AlertRule::solvent},
                      [&](AlertRule /*rule*/, const std::string& subject) {
                        return std::ranges::find(bays_, subject, &BaySetup::name) == bays_.end();
                      });
  context.clear_where({AlertRule::clock_stepped, AlertRule::settings_changed},
                      [&](AlertRule rule, const std::string& subject) {
                        const auto* alert = context.alerts.find(alert_id(rule, subject));
                        return alert->acknowledged || facts.now - alert->raised >= stale_after;
                      });
}

}  // namespace dryclock::engine
