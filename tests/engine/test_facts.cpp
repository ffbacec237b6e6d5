#include "engine/facts.hpp"

#include <doctest/doctest.h>

#include "domain/piece_fact.hpp"
#include "support/said.hpp"

namespace dryclock::engine {
namespace {

using models::Milestone;
using models::ZoneKind;
using support::said;

ZoneView zone(ZoneKind kind, models::Quantiles wet_share, models::Quantiles excess, models::Quantiles bond) {
  ZoneView out;
  out.kind = kind;
  out.water = {0.4, 1.1, 3.0};
  out.wet_share = wet_share;
  out.excess = excess;
  out.bond = bond;
  return out;
}

}  // namespace

TEST_CASE("what holds a step back: liquid first, then the film's own moisture, then bond, then doubt") {
  const models::Thresholds limits;
  const auto why = [&](const ZoneView& edge) {
    return held_by({zone(ZoneKind::field, {}, {}, {1.0, 1.0, 1.0}), edge}, ZoneKind::edge,
                   Milestone::trim_ready, limits);
  };
  const auto wet = why(zone(ZoneKind::edge, {0.1, 0.4, 0.7}, {0.2, 0.5, 0.8}, {0.1, 0.2, 0.3}));
  CHECK(wet == Fact{"limits.wet-share",
                    {say::word("zone", "words.zone-edge"), say::share("share", 0.4),
                     say::share("needed", limits.gone_wet)}});
  CHECK(why(zone(ZoneKind::edge, {0.0, 0.05, 0.2}, {0.2, 0.5, 0.8}, {0.1, 0.2, 0.3})).key == "limits.film");
  const auto bond = why(zone(ZoneKind::edge, {0.0, 0.05, 0.2}, {0.0, 0.1, 0.2}, {0.1, 0.42, 0.6}));
  CHECK(bond == Fact{"limits.bond",
                     {say::word("zone", "words.zone-edge"), say::share("bond", 0.42),
                      say::share("needed", limits.trim_bond)}});
  CHECK(why(zone(ZoneKind::edge, {0.0, 0.05, 0.2}, {0.0, 0.1, 0.2}, {0.5, 0.7, 0.8})).key ==
        "limits.unsure-wet");
  CHECK(why(zone(ZoneKind::edge, {0.0, 0.01, 0.05}, {0.0, 0.1, 0.2}, {0.5, 0.7, 0.8})).key ==
        "limits.unsure");
}

TEST_CASE("a step was early: still wet where liquid is likely, else the weakest bond and what is needed") {
  const models::Thresholds limits;
  const auto dry = zone(ZoneKind::field, {0.0, 0.02, 0.3}, {0.0, 0.1, 0.2}, {0.3, 0.5, 0.8});
  const auto wet = zone(ZoneKind::recess, {0.05, 0.3, 0.6}, {0.5, 0.6, 0.8}, {0.0, 0.1, 0.3});
  const auto both = still_wet({dry, wet}, Milestone::refit_ready, limits);
  REQUIRE(both.key == "limits.wet");
  CHECK(both.values.at(0).facts.size() == 1);
  CHECK(said(both).find("recess") != std::string::npos);
  CHECK(said(both).find("field") == std::string::npos);
  const auto weak = still_wet({dry}, Milestone::refit_ready, limits);
  CHECK(weak == Fact{"limits.weak",
                     {say::word("zone", "words.zone-field"), say::share("bond", 0.5),
                      say::share("needed", limits.refit_bond)}});
}

TEST_CASE("a piece is named in the words of who reads it") {
  std::vector<PanelEntry> panels(1);
  panels[0].key = "front-wing";
  panels[0].label_uk = "front wing";
  panels[0].label_us = "front fender";
  panels[0].label_de = "Kotflügel vorn";
  const auto named = [&](Language language, const char* panel, int part, int parts,
                         std::optional<Side> side = {}, const char* place = "") {
    return support::words({language}, {{}, {}, panels}).fact(piece_fact({panel, part, parts, side, place}));
  };
  CHECK(named(Language::english_uk, "front-wing", 1, 1, Side::left) == "left front wing");
  CHECK(named(Language::english_us, "front-wing", 2, 2, Side::right) == "right front fender 2/2");
  CHECK(named(Language::german, "front-wing", 1, 1, Side::left) == "Kotflügel vorn links");
  CHECK(named(Language::german, "Griffmulde", 1, 1, Side::left_rear) == "Griffmulde hinten links");
  CHECK(named(Language::english_uk, "front-wing", 1, 2, {}, "upper-half") == "front wing, upper half");
  CHECK(named(Language::german, "front-wing", 1, 2, Side::right, "upper-half") ==
        "Kotflügel vorn rechts, obere Hälfte");
  CHECK(named(Language::english_uk, "front-wing", 1, 2, Side::left, "above the line") ==
        "left front wing, above the line");
  CHECK(named(Language::english_uk, "front-wing", 1, 1) == "front wing");
  CHECK(named(Language::english_uk, "front-wing", 2, 2) == "front wing 2/2");
  CHECK(named(Language::english_uk, "tow bar cover", 1, 1) == "tow bar cover");
  CHECK(named(Language::english_us, "front-wing", 1, 1) == "front fender");
  CHECK(named(Language::german, "front-wing", 1, 2) == "Kotflügel vorn 1/2");
  panels[0].label_de.clear();  // as in a row of an earlier program
  CHECK(named(Language::german, "front-wing", 1, 1) == "front wing");
}

TEST_CASE("what happened to the clock, in words") {
  using std::chrono::hours;
  const auto words = [](Seq first, Seq last, ClockFault why) {
    return said(clock_fact({"boot", Time{}, first, last, -hours{3}, why}));
  };
  CHECK(words(7, 9, ClockFault::stepped) == "The clock was set back by 3 h. Rows 7 to 9 are dated anew.");
  CHECK(words(7, 7, ClockFault::by_devices) ==
        "The time is the one that the sensors tell: no time server vouches for it. Row 7 is dated anew.");
  CHECK(words(0, 0, ClockFault::by_devices) ==
        "The time is the one that the sensors tell: no time server vouches for it.");
}

TEST_CASE("what changed in the settings is named in the words of who reads it") {
  const std::vector<FilmEntry> films{{"baseline", "matt film", "", "matte Folie", {}}};
  const std::vector<SolutionEntry> solutions{{"slip", "slip solution", "", "Gleitlösung", {}}};
  Shop::Changed changed;
  changed.films = {"baseline"};
  changed.solutions = {"slip"};
  changed.pieces = 1;
  changed.vehicles = {"demo-1"};
  CHECK(support::words({Language::german}, {films, solutions, {}}).fact(changed_fact(changed)) ==
        "Geändert: Folie „matte Folie“, Lösung „Gleitlösung“. 1 Stück wird neu geschätzt, auf demo-1.");
}

TEST_CASE("what changed in the settings is named, each thing by its own name") {
  Shop::Changed changed;
  changed.films = {"baseline", "open"};
  changed.panels = {"bonnet"};
  changed.pieces = 3;
  changed.vehicles = {"demo-1", "demo-2"};
  CHECK(said(changed_fact(changed)) ==
        "Changed: film ‘baseline’, film ‘open’, panel ‘bonnet’. 3 pieces are estimated anew, on demo-1, "
        "demo-2.");
  Shop::Changed others;
  others.solutions = {"slip"};
  others.water = others.slowest_panel = others.readiness = true;
  others.pieces = 1;
  others.vehicles = {"demo-1"};
  CHECK(said(changed_fact(others)) ==
        "Changed: solution ‘slip’, the water that the squeegee leaves, the slowest panel, what counts as "
        "ready. "
        "1 piece is estimated anew, on demo-1.");
}

}  // namespace dryclock::engine
