#include "engine/wording.hpp"

#include <doctest/doctest.h>

using namespace dryclock;
using namespace dryclock::engine;
using std::chrono::minutes;

TEST_CASE("figures as anyone can act on") {
  CHECK(figure(44.4) == "44");
  CHECK(figure(3.14) == "3.1");
  CHECK(figure(0.256) == "0.26");
}

TEST_CASE("what holds a step back: water first, then the film's own moisture, then bond, then doubt") {
  models::PieceView view;
  models::ZoneView zone;
  zone.kind = models::ZoneKind::recess;
  zone.water = {4.0, 11.0, 30.0};
  zone.hours_to_go = {3.0, 6.1, 20.0};
  view.zones = {zone};
  const models::Thresholds limits;
  CHECK(held_by(view, models::Milestone::dry, limits) == "recess: 11 g/m2 left, 6.1 standard hours to go");
  view.zones[0].water = {0.0, 0.0, 2.0};
  view.zones[0].excess = {0.1, 0.4, 0.5};
  CHECK(held_by(view, models::Milestone::wrap_ready, limits).find("40 %") != std::string::npos);
  view.zones[0].bond = {0.3, 0.42, 0.5};
  CHECK(held_by(view, models::Milestone::refit_ready, limits) == "recess: bond 0.42 of 0.75");
  view.zones[0].bond = {0.9, 0.95, 1.0};
  CHECK(held_by(view, models::Milestone::refit_ready, limits).find("up to 2.0 g/m2") != std::string::npos);
}

TEST_CASE("a piece is named in the shop's own words") {
  Catalogue catalogue;
  catalogue.panels.resize(1);
  catalogue.panels[0].key = "front-wing";
  catalogue.panels[0].label_uk = "front wing";
  catalogue.panels[0].label_us = "front fender";
  CHECK(piece_words(catalogue, "front-wing", 1, 1) == "front wing");
  CHECK(piece_words(catalogue, "front-wing", 2, 2) == "front wing 2/2");
  CHECK(piece_words(catalogue, "tow bar cover", 1, 1) == "tow bar cover");
  catalogue.us_words = true;
  CHECK(piece_words(catalogue, "front-wing", 1, 1) == "front fender");
}

TEST_CASE("what happened to the clock, in words") {
  using std::chrono::hours;
  const auto words = [](Seq first, Seq last, ClockFault why) {
    return clock_words({"boot", Time{}, first, last, -hours{3}, why});
  };
  CHECK(words(7, 9, ClockFault::stepped) == "The clock was set back by 3 h; rows 7 to 9 are dated anew.");
  CHECK(words(7, 7, ClockFault::told) ==
        "The time is the one that the sensors tell: no time server vouches for it; row 7 is dated anew.");
  CHECK(words(0, 0, ClockFault::told) ==
        "The time is the one that the sensors tell: no time server vouches for it.");
}

TEST_CASE("what changed in the settings is named, each thing by its own name") {
  Shop::Changed changed;
  changed.films = {"baseline", "open"};
  changed.panels = {"bonnet"};
  changed.pieces = 3;
  changed.vehicles = {"demo-1", "demo-2"};
  CHECK(changed_words(changed) ==
        "Changed: film 'baseline', film 'open', panel 'bonnet'. 3 pieces are estimated anew, on demo-1, "
        "demo-2.");
  Shop::Changed others;
  others.solutions = {"slip"};
  others.water = others.slowest_panel = others.readiness = true;
  others.pieces = 1;
  others.vehicles = {"demo-1"};
  CHECK(changed_words(others) ==
        "Changed: solution 'slip', the water that the squeegee leaves, the slowest panel, what counts as "
        "ready. "
        "1 piece is estimated anew, on demo-1.");
}
