#include "engine/facts.hpp"

#include <algorithm>

#include "domain/names.hpp"

namespace dryclock::engine {
namespace {

using models::Milestone;

Value water(std::string_view name, double grams_m2) {
  return say::figure(name, Measure::water, grams_m2);
}

models::ZoneAsks asks_of(const std::vector<ZoneView>& zones, models::ZoneKind kind, Milestone which,
                         const models::Thresholds& thresholds) {
  const auto has = [&](models::ZoneKind wanted) {
    return std::ranges::find(zones, wanted, &ZoneView::kind) != zones.end();
  };
  return models::asks_of(thresholds, which, kind, has(models::ZoneKind::edge), has(models::ZoneKind::field));
}

}  // namespace

Value zone_value(models::ZoneKind zone) {
  return say::word("zone", "words.zone-" + std::string{name_of(zone)});
}

Value span_value(std::string_view name, Millis length) {
  namespace chrono = std::chrono;
  return say::span(name, length < chrono::days{1} ? Millis{chrono::floor<chrono::minutes>(length)}
                                                  : Millis{chrono::floor<chrono::hours>(length)});
}

Fact still_wet(const std::vector<ZoneView>& zones, Milestone which, const models::Thresholds& thresholds) {
  if (zones.empty()) {
    return {};
  }
  std::vector<Fact> wet;
  for (const auto& zone : zones) {
    if (zone.wet_share.likely >= thresholds.gone_wet) {
      wet.push_back(
          {"limits.wet-zone",
           {zone_value(zone.kind), water("water", zone.water.likely), water("most", zone.water.high)}});
    }
  }
  if (!wet.empty()) {
    return {"limits.wet", {say::facts("zones", std::move(wet))}};
  }
  const auto asked = [&](const ZoneView& zone) { return asks_of(zones, zone.kind, which, thresholds).bond; };
  const auto weakest = std::ranges::max_element(
      zones, {}, [&](const ZoneView& zone) { return asked(zone) - zone.bond.likely; });
  if (weakest->bond.likely >= asked(*weakest)) {
    return {"limits.unsure", {zone_value(weakest->kind)}};
  }
  return {"limits.weak",
          {zone_value(weakest->kind), say::share("bond", weakest->bond.likely),
           say::share("needed", asked(*weakest))}};
}

Fact held_by(const std::vector<ZoneView>& zones, models::ZoneKind limiting, Milestone which,
             const models::Thresholds& thresholds) {
  const auto zone = std::ranges::find(zones, limiting, &ZoneView::kind);
  if (zone == zones.end()) {
    return {};
  }
  const auto name = zone_value(zone->kind);
  const auto asks = asks_of(zones, zone->kind, which, thresholds);
  if (zone->wet_share.likely > asks.wet_share) {
    return {"limits.wet-share",
            {name, say::share("share", zone->wet_share.likely), say::share("needed", asks.wet_share)}};
  }
  if (zone->excess.likely > asks.excess) {
    return {"limits.film",
            {name, say::share("excess", zone->excess.likely), say::share("needed", asks.excess)}};
  }
  if (zone->bond.likely < asks.bond) {
    return {"limits.bond", {name, say::share("bond", zone->bond.likely), say::share("needed", asks.bond)}};
  }
  if (zone->wet_share.high > asks.wet_share) {
    return {"limits.unsure-wet",
            {name, say::share("most", zone->wet_share.high), say::share("needed", asks.wet_share)}};
  }
  return {"limits.unsure", {name}};
}

Fact clock_fact(const Redated& redated) {
  using std::chrono::minutes, std::chrono::round, std::chrono::seconds;
  const Millis moved = std::chrono::abs(redated.by);
  const auto by = say::span("by", moved < minutes{2} ? Millis{round<seconds>(moved)} : round<minutes>(moved));
  const auto with_rows = [&](Fact what) -> Fact {
    return redated.first == 0 ? what
                              : Fact{"clock.redated",
                                     {say::fact("what", std::move(what)),
                                      say::count("rows", redated.last - redated.first + 1),
                                      say::text("first", std::to_string(redated.first)),
                                      say::text("last", std::to_string(redated.last))}};
  };
  switch (redated.why) {
    case ClockFault::stepped:
      return with_rows({redated.by > Millis{0} ? "clock.forward" : "clock.back", {by}});
    case ClockFault::ahead:
      return with_rows({"clock.ahead", {by}});
    case ClockFault::by_devices:
      return with_rows({"clock.told"});
    case ClockFault::behind:
      break;
  }
  return {"clock.behind"};
}

Fact changed_fact(const Shop::Changed& changed) {
  std::vector<Fact> what;
  const auto name = [&](const std::string& key, const std::set<std::string>& names, const auto& value) {
    for (const auto& one : names) {
      what.push_back({key, {value("key", one)}});
    }
  };
  name("changed.film", changed.films, say::film);
  name("changed.solution", changed.solutions, say::solution);
  name("changed.panel", changed.panels, say::panel);
  if (changed.water) {
    what.push_back({"changed.water"});
  }
  if (changed.slowest_panel) {
    what.push_back({"changed.slowest-panel"});
  }
  if (changed.readiness) {
    what.push_back({"changed.readiness"});
  }
  std::vector<Fact> vehicles;
  for (const auto& reference : changed.vehicles) {
    vehicles.push_back({"changed.vehicle", {say::text("reference", reference)}});
  }
  return {"changed.settings",
          {say::facts("what", std::move(what)), say::count("pieces", changed.pieces),
           say::facts("vehicles", std::move(vehicles))}};
}

}  // namespace dryclock::engine
