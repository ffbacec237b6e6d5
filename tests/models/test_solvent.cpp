#include "models/solvent.hpp"

#include <doctest/doctest.h>

#include <cmath>

using namespace dryclock::models;

TEST_SUITE_BEGIN("solvent");

TEST_CASE("nothing used, nothing in the air") {
  const SolventUse use{.alcohol_grams = 0.0, .volume_m3 = 100.0};
  const auto bound = solvent_bound(use);
  CHECK(bound.peak_ppm == 0.0);
  CHECK_FALSE(bound.may_exceed_day);
}

TEST_CASE("air changes thin the day's mean, never the peak") {
  SolventUse use{.alcohol_grams = 98.0, .volume_m3 = 100.0};
  const auto closed = solvent_bound(use);
  use.air_changes_per_h = 1.0;
  const auto aired = solvent_bound(use);
  CHECK(aired.peak_ppm == closed.peak_ppm);
  CHECK(closed.day_ppm == closed.peak_ppm);
  CHECK(aired.day_ppm == doctest::Approx(closed.peak_ppm * (1 - std::exp(-8.0)) / 8.0));
}

TEST_CASE("the bound is held by the vapour pressure, and then air changes do not help") {
  const SolventUse use{.alcohol_grams = 1e5, .volume_m3 = 10.0, .air_changes_per_h = 5.0};
  const auto bound = solvent_bound(use);
  CHECK(bound.saturated);
  CHECK(bound.peak_ppm == doctest::Approx(isopropanol_vapour_pressure(use.air).value() / 101'325.0 * 1e6));
  CHECK(bound.day_ppm == bound.peak_ppm);
  CHECK(bound.may_reach_explosive);
}

TEST_CASE("a cold bay below the pure solvent's flash point is not called ignitable") {
  SolventUse use{.alcohol_grams = 50.0, .volume_m3 = 100.0, .air_changes_per_h = 0.0, .air = Celsius{5.0}};
  CHECK_FALSE(solvent_bound(use).ignitable_at_source);
  use.air = Celsius{12.0};
  CHECK(solvent_bound(use).ignitable_at_source);
}

TEST_CASE("the vapour pressure is taken from -26 to 83 C, where its equation was fitted, and held beyond") {
  const auto pressure = [](double celsius) { return isopropanol_vapour_pressure(Celsius{celsius}).value(); };
  CHECK(pressure(90.0) == pressure(83.0));
  CHECK(pressure(82.5) < pressure(83.0));
  CHECK(pressure(-30.0) == pressure(-26.0));
  CHECK(pressure(-25.5) > pressure(-26.0));
}

TEST_CASE("a bay whose air nobody measured is at 21 C") {
  CHECK(SolventUse{}.air == Celsius{21.0});
}

TEST_SUITE_END();
