#include "models/heat_event.hpp"

#include <doctest/doctest.h>

#include <string>

#include "models/panel_heat.hpp"

using namespace dryclock::models;

TEST_SUITE_BEGIN("heat_event");

TEST_CASE("surface temperatures fall into three levels, by configurable caps") {
  CHECK(heat_level(Celsius{60.0}) == HeatLevel::routine);
  CHECK(heat_level(Celsius{60.1}) == HeatLevel::brief_only);
  CHECK(heat_level(Celsius{80.0}) == HeatLevel::brief_only);
  CHECK(heat_level(Celsius{80.1}) == HeatLevel::too_hot);
  const HeatCaps careful{.routine = Celsius{40.0}, .brief = Celsius{50.0}};
  CHECK(heat_level(Celsius{55.0}, careful) == HeatLevel::too_hot);
  CHECK(heat_validity(Celsius{55.0}) == valid);
  CHECK(heat_validity(Celsius{55.0}, careful) == panel_too_hot);
}

TEST_CASE("every warning defers to the film maker's data sheet, and none calls anything safe") {
  CHECK(heat_warning(HeatLevel::routine).empty());
  for (const HeatLevel level : {HeatLevel::brief_only, HeatLevel::too_hot}) {
    const std::string text{heat_warning(level)};
    CHECK(text.find("film maker's data sheet") != std::string::npos);
    CHECK(text.find("burn") != std::string::npos);
    CHECK(text.find("safe") == std::string::npos);
  }
}

TEST_CASE("the heat that holds a surface is the heat under which the panel settles there") {
  PanelThermal panel;
  panel.sides = 2.0;
  const double q = heat_that_holds(Celsius{45.0}, Celsius{20.0}, panel);
  CHECK(q == doctest::Approx(2 * 8.0 * 25.0));
  CHECK(settled_surface(q, Celsius{20.0}, panel).value() == doctest::Approx(45.0));
  CHECK(heat_that_holds(Celsius{15.0}, Celsius{20.0}, panel) == 0.0);

  Surroundings lit;
  lit.air = Celsius{20.0};
  lit.absorbed_heat = q;
  const PanelState after = advance({20.0, 20.0}, panel, lit, lit, time_constant(panel) * 40.0);
  CHECK(after.sheet_c == doctest::Approx(45.0));
}

TEST_CASE("absorbed heat is a share of the irradiance and never negative") {
  CHECK(absorbed_heat(800.0, 0.9) == doctest::Approx(720.0));
  CHECK(absorbed_heat(-5.0, 0.9) == 0.0);
  CHECK(absorbed_heat(800.0, 1.4) == doctest::Approx(800.0));
}

TEST_SUITE_END();
