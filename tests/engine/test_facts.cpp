#include "engine/facts.hpp"

#include <doctest/doctest.h>

#include "support/said.hpp"

using namespace dryclock;
using namespace dryclock::engine;
using support::said;

TEST_CASE("what holds a step back: water first, then the film's own moisture, then bond, then doubt") {
  models::PieceView view;
  models::ZoneView zone;
  zone.kind = models::ZoneKind::recess;
  zone.water = {4.0, 11.0, 30.0};
  zone.hours_to_go = {3.0, 6.1, 20.0};
  view.zones = {zone};
  const models::Thresholds limits;
  CHECK(said(held_by(view, models::Milestone::dry, limits)) ==
        "recess: 11 g/m² left, 6.1 standard hours to go");
  view.zones[0].water = {0.0, 0.0, 2.0};
  view.zones[0].excess = {0.1, 0.4, 0.5};
  CHECK(said(held_by(view, models::Milestone::wrap_ready, limits)).find("40 %") != std::string::npos);
  view.zones[0].bond = {0.3, 0.42, 0.5};
  CHECK(said(held_by(view, models::Milestone::refit_ready, limits)) == "recess: bond 0.42 of 0.75");
  view.zones[0].bond = {0.9, 0.95, 1.0};
  CHECK(said(held_by(view, models::Milestone::refit_ready, limits)).find("up to 2 g/m²") !=
        std::string::npos);
}

TEST_CASE("what limits a piece is told as zone, amount and what is needed, each with its unit") {
  models::PieceView view;
  models::ZoneView zone;
  zone.kind = models::ZoneKind::recess;
  zone.water = {4.0, 11.04, 30.0};
  zone.hours_to_go = {3.0, 6.1, 20.0};
  view.zones = {zone};
  const auto fact = held_by(view, models::Milestone::dry, models::Thresholds{});
  CHECK(fact.key == "limits.water");
  REQUIRE(fact.values.size() == 4);
  CHECK(fact.values[0] == say::word("zone", "words.zone-recess"));
  CHECK(fact.values[1] == say::number("water", Measure::water, 11.0));
  CHECK(fact.values[2] == say::number("needed", Measure::water, models::Thresholds{}.dry_below.value()));
  CHECK(fact.values[3] == say::number("hours", Measure::figure, 6.1));
}

TEST_CASE("a piece is named in the words of who reads it") {
  std::vector<PanelEntry> panels(1);
  panels[0].key = "front-wing";
  panels[0].label_uk = "front wing";
  panels[0].label_us = "front fender";
  panels[0].label_de = "Kotflügel vorn";
  const auto named = [&](Language language, const char* panel, int part, int parts) {
    return support::words({language}, {{}, {}, panels}).fact(piece_fact(panel, part, parts));
  };
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
