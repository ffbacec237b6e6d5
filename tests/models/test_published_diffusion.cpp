// The film's transient diffusion against the classical series, through the fine grid and through the modes.
#include <doctest/doctest.h>

#include <cmath>
#include <numbers>
#include <utility>

#include "models/film_modes.hpp"
#include "models/film_stack.hpp"
#include "models/humid_air.hpp"
#include "support/capture_bound.hpp"

using namespace dryclock::models;

namespace {

constexpr double film_thickness = 150e-6;     // m
constexpr double permeability = 5e-14;        // kg/(m s Pa)
constexpr double sorption = 17.0;             // kg/m3 at saturation
constexpr MetresPerSecond free_outside{1e3};  // so large that the air layer vanishes
const double film_diffusivity = permeability * saturation_pressure(Celsius{21.0}).value() / sorption;
const double whole_time = film_thickness * film_thickness / film_diffusivity;  // L^2/D, s

FilmStack sheet() {
  FilmStack stack;
  stack.layers.push_back({.name = "film",
                          .thickness = Metres{film_thickness},
                          .permeability = Permeability{permeability},
                          .sorption = sorption});
  return stack;
}

Surroundings at(double humidity) {
  Surroundings air;
  air.air = Celsius{21.0};
  air.humidity = Humidity{humidity};
  return air;
}

WaterLayer whole_layer() {
  return WaterLayer{GramsPerSquareMetre{0.0}, GramsPerSquareMetre{0.05}};
}

}  // namespace

TEST_SUITE_BEGIN("published");

TEST_CASE("[Crank1975: eq 4.18] sorption by a plane sheet, M/M_inf") {
  // A sheet sealed on one face is half of one that is open on both: D t/l^2 with l its thickness.
  FilmStackSolver film{sheet(), whole_layer(), GramsPerSquareMetre{0.0}, free_outside, at(0.3), 1e-8};
  const double start = film.film_water();
  const double end = start * 0.6 / 0.3;
  double before = 0.0;
  for (const auto& [reduced, share] : {std::pair{0.01, 0.112838},
                                       {0.05, 0.252313},
                                       {0.1, 0.356823},
                                       {0.196731, 0.5},
                                       {0.2, 0.504088},
                                       {0.5, 0.763950},
                                       {1.0, 0.931260}}) {
    CAPTURE_BOUND(reduced);
    film.advance(at(0.6), at(0.6), Seconds{(reduced - before) * whole_time});
    before = reduced;
    // To a thousandth of what it takes up in the end.
    CHECK(std::abs((film.film_water() - start) / (end - start) - share) < 1e-3);
  }
}

TEST_CASE("[Crank1975: section 4.3.3] permeation through a sheet that was dry, J/J_ss") {
  FilmStackSolver film{sheet(), whole_layer(), GramsPerSquareMetre{400.0}, free_outside, at(0.0), 1e-8};
  const double steady =
      1e3 * permeability * saturation_pressure(Celsius{21.0}).value() / film_thickness;  // g/(m2 s)
  double now = 0.0;
  for (const auto& [reduced, share] : {std::pair{0.1, 0.292900},
                                       {1.0 / 6.0, 0.616725},
                                       {0.3, 0.896468},
                                       {0.45, 0.976439},
                                       {1.0, 0.999897}}) {
    CAPTURE_BOUND(reduced);
    const double half = 2e-4;  // the flux is what leaves over a short while around the moment
    film.advance(at(0.0), at(0.0), Seconds{(reduced - half - now) * whole_time});
    const double left = film.evaporated();
    film.advance(at(0.0), at(0.0), Seconds{2 * half * whole_time});
    now = reduced + half;
    CHECK((film.evaporated() - left) / (2 * half * whole_time) / steady ==
          doctest::Approx(share).epsilon(1e-3).scale(0.0));
  }
}

TEST_CASE("[Crank1975: section 4.3.3] time lag of Daynes and Barrer, L^2/(6 D)") {
  FilmStackSolver film{sheet(), whole_layer(), GramsPerSquareMetre{400.0}, free_outside, at(0.0), 1e-8};
  const double steady = 1e3 * permeability * saturation_pressure(Celsius{21.0}).value() / film_thickness;
  film.advance(at(0.0), at(0.0), Seconds{4.0 * whole_time});
  const double lag = 4.0 * whole_time - film.evaporated() / steady;
  CHECK(lag / whole_time == doctest::Approx(1.0 / 6.0).epsilon(1e-3).scale(0.0));
}

TEST_CASE("[Crank1975: eq 4.18, eq 4.24] the modes decay at the series' rates") {
  // (n pi/L)^2 D between two held faces, ((n + 1/2) pi/L)^2 D with one of them sealed.
  const FilmModes modes = film_modes(sheet(), free_outside);
  for (std::size_t n = 0; n < 4; ++n) {
    CAPTURE(n);
    const double held = (static_cast<double>(n) + 1.0) * std::numbers::pi;
    const double sealed = (static_cast<double>(n) + 0.5) * std::numbers::pi;
    CHECK(modes.wet_rate[n] * whole_time == doctest::Approx(held * held).epsilon(1e-3).scale(0.0));
    CHECK(modes.dry_rate[n] * whole_time == doctest::Approx(sealed * sealed).epsilon(1e-3).scale(0.0));
  }
}

TEST_SUITE_END();
