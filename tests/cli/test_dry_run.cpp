#include "cli/dry_run.hpp"

#include <doctest/doctest.h>

#include <cmath>

#include "cli/case_file.hpp"
#include "config/shipped_files.hpp"
#include "support/config_files.hpp"

using namespace dryclock;
using dryclock::test::shipped;

namespace {

cli::DryCase shipped_case(const char* name) {
  return cli::read_case(shipped() / "cases" / name, find_shipped_files(shipped().string()));
}

cli::DryCase baseline(cli::Solver solver) {
  auto dry = shipped_case("baseline.toml");
  dry.solver = solver;
  return dry;
}

double water_at(const cli::DryResult& result, double hours) {
  for (const auto& point : result.series) {
    if (std::abs(point.hours - hours) < 1e-9) {
      return point.water;
    }
  }
  return std::nan("");
}

}  // namespace

// Source of the numbers: SUNDIALS CVODE, BDF, rtol 1e-8, p_sat 2488.1 Pa (ours, Hyland-Wexler, is
// 2487.7: 1.5e-4 of the time).
TEST_CASE("the baseline case dries as SUNDIALS CVODE says, by either solver [CVODE: BDF, rtol 1e-8]") {
  for (const auto solver : {cli::Solver::modes, cli::Solver::grid}) {
    CAPTURE(static_cast<int>(solver));
    const auto result = cli::run(baseline(solver), 60.0);
    REQUIRE(result.dry_h.has_value());
    CHECK(*result.dry_h == doctest::Approx(11.5706).epsilon(1e-3));
    CHECK(result.excess_at_dry == doctest::Approx(0.6918).epsilon(1e-3));
    CHECK(water_at(result, 1.0) == doctest::Approx(8.7846).epsilon(1e-3));
    CHECK(water_at(result, 2.0) == doctest::Approx(7.9485).epsilon(1e-3));
    CHECK(water_at(result, 6.0) == doctest::Approx(4.6264).epsilon(1e-3));
    CHECK(water_at(result, 10.0) == doctest::Approx(1.3044).epsilon(1e-3));
    // Printed to 0.1 min, from a coarse grid: a second independent computation (plain backward Euler, 210
    // cells, 1 s) gives 29.72, 67.58, 96.23, 124.88 and 191.40.
    const std::array printed{30.0, 67.7, 96.3, 125.0, 191.7};
    for (std::size_t i = 0; i < printed.size(); ++i) {
      REQUIRE(result.excess_min[i].has_value());
      CHECK(std::abs(*result.excess_min[i] - printed[i]) < 0.35);
    }
    CHECK(result.validity == models::valid);
    CHECK_FALSE(result.air_held);
  }
}

// Source: SUNDIALS CVODE, BDF, rtol 1e-8, as above.
TEST_CASE("one layer without air layer dries as SUNDIALS CVODE says [CVODE: BDF, rtol 1e-8]") {
  auto dry = baseline(cli::Solver::modes);
  dry.stack.layers = {{"film", models::Metres{150e-6}, models::Permeability{5e-14}, 17.0}};
  dry.air_layer_coefficient = 1.0;  // next to nothing of the resistance
  const auto result = cli::run(dry, 600.0);
  CHECK(result.dry_h.value() == doctest::Approx(6.413874).epsilon(1e-3));
}

// Under 21 C and 50 %RH an hour is a standard hour: by definition.
TEST_CASE("standard hours are hours at 21 C and 50 %RH") {
  const auto result = cli::run(baseline(cli::Solver::modes), 600.0);
  CHECK(result.standard_hours == doctest::Approx(*result.dry_h).epsilon(1e-9));
}

// Log-time law through 50 % after 20 min, 90 % after 24 h (usual statement for acrylic tapes, from memory),
// at 23 C where it counts one to one.
TEST_CASE("bond grows from the moment the liquid is gone") {
  auto dry = baseline(cli::Solver::modes);
  dry.air[0].air_c = 23.0;
  const auto result = cli::run(dry, 600.0);
  CHECK(result.bond_h.front().value() - *result.dry_h == doctest::Approx(20.0 / 60.0).epsilon(0.03));
  CHECK(result.bond_h.back().value() - *result.dry_h == doctest::Approx(24.0).epsilon(0.03));
}

TEST_CASE("the two solvers agree on a cold night with a lagging panel and patches") {
  auto dry = shipped_case("cold-night.toml");
  const auto modes = cli::run(dry, 120.0);
  dry.solver = cli::Solver::grid;
  const auto grid = cli::run(dry, 120.0);
  CHECK(modes.dry_h.value() == doctest::Approx(grid.dry_h.value()).epsilon(2e-3));
  CHECK(water_at(modes, 8.0) == doctest::Approx(water_at(grid, 8.0)).epsilon(5e-3));
  CHECK(modes.air_held);
}

TEST_CASE("a measured panel below the air dries slower than one at the air's temperature") {
  auto dry = baseline(cli::Solver::modes);
  const auto at_air = cli::run(dry, 600.0);
  dry.panel = cli::PanelSource::measured;
  dry.air[0].panel_c = 18.0;
  const auto colder = cli::run(dry, 600.0);
  CHECK(colder.dry_h.value() > 1.4 * at_air.dry_h.value());
}

TEST_CASE("a case that cannot dry says so, and is flagged") {
  auto dry = baseline(cli::Solver::modes);
  dry.air[0] = {0.0, 10.0, 100.0};
  dry.max_hours = 12.0;
  const auto result = cli::run(dry, 60.0);
  CHECK_FALSE(result.dry_h.has_value());
  CHECK((result.validity & models::condensing) != 0);
  CHECK(result.series.back().hours == doctest::Approx(12.0));
  CHECK(result.series.back().water > 9.9);
}

TEST_CASE("a film that starts drier takes up water first, so the liquid goes sooner") {
  auto dry = baseline(cli::Solver::modes);
  dry.start_activity = 0.2;
  const auto drier = cli::run(dry, 600.0);
  dry.start_activity = 0.5;
  const auto same = cli::run(dry, 600.0);
  CHECK(same.dry_h.value() == doctest::Approx(cli::run(baseline(cli::Solver::modes), 600.0).dry_h.value()));
  CHECK(drier.dry_h.value() < same.dry_h.value());
}

// Air that turns damp minutes before the liquid ends: the film's outer part has not followed yet, and holds
// less than such air would leave in it.
TEST_CASE("where the film holds no excess as the liquid ends, nothing is timed to fall") {
  for (const auto solver : {cli::Solver::modes, cli::Solver::grid}) {
    CAPTURE(static_cast<int>(solver));
    auto dry = baseline(solver);
    dry.air = {{0.0, 21.0, 50.0}, {11.5, 21.0, 50.0}, {11.51, 21.0, 99.0}};
    const auto result = cli::run(dry, 600.0);
    REQUIRE(result.dry_h.has_value());
    REQUIRE(result.excess_at_dry < 0.0);
    for (const auto& minutes : result.excess_min) {
      CHECK_FALSE(minutes.has_value());
    }
    CHECK(result.series.back().hours < 100.0);  // it does not wait for them until max_hours
  }
}
