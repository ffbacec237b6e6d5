#include "engine/facts.hpp"

#include <algorithm>

#include "domain/milestones.hpp"
#include "domain/names.hpp"

namespace dryclock::engine {
namespace {

using models::Milestone;

Value zone_value(models::ZoneKind zone) {
  return say::word("zone", "words.zone-" + std::string{name_of(zone)});
}
Value water(std::string_view name, double grams_m2) {
  return say::figure(name, Measure::water, grams_m2);
}
Value figure(std::string_view name, double value) {
  return say::figure(name, Measure::figure, value);
}

}  // namespace

Fact piece_fact(const std::string& panel, int part, int parts) {
  return {"words.piece",
          {say::panel("panel", panel), say::text("part", std::to_string(part)), say::count("parts", parts)}};
}

Value span_value(std::string_view name, Millis length) {
  using namespace std::chrono;
  return say::span(name, length < days{1} ? Millis{floor<minutes>(length)} : Millis{floor<hours>(length)});
}

Fact still_wet(const std::optional<models::Piece>& piece, const models::Thresholds& thresholds) {
  if (!piece) {
    return {"limits.no-readings"};
  }
  const auto view = piece->view();
  std::vector<Fact> zones;
  for (const auto& zone : view.zones) {
    // Members that are still wet, not the middle one: the doubt is what must be said.
    if (zone.water.high > thresholds.dry_below.value()) {
      zones.push_back(
          {"limits.wet-zone",
           {zone_value(zone.kind), water("water", zone.water.likely), water("most", zone.water.high)}});
    }
  }
  if (!zones.empty()) {
    return {"limits.wet", {say::facts("zones", std::move(zones))}};
  }
  if (view.zones.empty()) {
    return {};
  }
  const auto weakest =
      std::min_element(view.zones.begin(), view.zones.end(),
                       [](const auto& a, const auto& b) { return a.bond.likely < b.bond.likely; });
  return {"limits.weak", {zone_value(weakest->kind), figure("bond", weakest->bond.likely)}};
}

Fact held_by(const models::PieceView& view, Milestone which, const models::Thresholds& thresholds) {
  if (view.zones.empty()) {
    return {};
  }
  const auto& zone = view.zones[view.limiting_zone[static_cast<std::size_t>(which)]];
  const auto name = zone_value(zone.kind);
  const auto& asks = traits(which);
  const double dry = thresholds.dry_below.value();
  if (zone.water.likely > dry) {
    return {"limits.water",
            {name, water("water", zone.water.likely), water("needed", dry),
             figure("hours", zone.hours_to_go.likely)}};
  }
  if (asks.excess != nullptr && zone.excess.likely > thresholds.*asks.excess) {
    return {"limits.film",
            {name, say::share("excess", zone.excess.likely), say::share("needed", thresholds.*asks.excess)}};
  }
  if (zone.bond.likely < thresholds.*asks.bond) {
    return {"limits.bond", {name, figure("bond", zone.bond.likely), figure("needed", thresholds.*asks.bond)}};
  }
  if (zone.water.high > dry) {
    return {"limits.unsure-water", {name, water("most", zone.water.high), water("needed", dry)}};
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
