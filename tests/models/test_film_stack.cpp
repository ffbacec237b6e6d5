#include "models/film_stack.hpp"

#include <doctest/doctest.h>

#include <array>
#include <cmath>

#include "drying_cases.hpp"
#include "models/humid_air.hpp"
#include "models/pace.hpp"

using namespace dryclock::models;
using namespace drying_cases;

TEST_SUITE_BEGIN("published");

// 10 g/m2 at 21 C and 50 %RH under the baseline stack. Source of every number: SUNDIALS CVODE, BDF, rtol
// 1e-8, on a fine grid, with p_sat = 2488.1 Pa (ours is 2487.8, hence 1.2e-4 of the time).
TEST_CASE("baseline stack dries as SUNDIALS CVODE says [CVODE: BDF, rtol 1e-8]") {
  const Surroundings bay = air(21.0, 0.5);
  FilmStackSolver film(baseline(), whole, GramsPerSquareMetre{10.0}, still_bay, bay);
  struct Printed {
    double hours, water;
  };
  double now = 0.0;
  for (const Printed& printed :
       {Printed{1.0, 8.7846}, Printed{2.0, 7.9485}, Printed{6.0, 4.6264}, Printed{10.0, 1.3044}}) {
    film.advance(bay, bay, Seconds{(printed.hours - now) * hour});
    now = printed.hours;
    CHECK(film.water() == about(printed.water, 0.001));
  }
  film.advance(bay, bay, Seconds{4.0 * hour});
  CHECK(film.dry_after() / hour == about(11.5706, 0.001));
}

TEST_CASE("film gives up its excess as SUNDIALS CVODE says [CVODE: BDF, rtol 1e-8]") {
  const Surroundings bay = air(21.0, 0.5);
  FilmStackSolver timing(baseline(), whole, GramsPerSquareMetre{10.0}, still_bay, bay);
  timing.advance(bay, bay, Seconds{14.0 * hour});
  FilmStackSolver film(baseline(), whole, GramsPerSquareMetre{10.0}, still_bay, bay);
  // The break-up of 1 mg/m2 that stands for "whole" smears the end over seconds.
  film.advance(bay, bay, Seconds{timing.dry_after()});
  const double excess = film.excess() + film.water();
  CHECK(excess == about(0.6918, 0.001));

  struct Printed {
    double left, minutes;
  };
  double now = 0.0;
  double before = 1.0;
  for (const Printed& printed : {Printed{0.50, 30.0}, Printed{0.20, 67.7}, Printed{0.10, 96.3},
                                 Printed{0.05, 125.0}, Printed{0.01, 191.7}}) {
    double left = before;
    while (left > printed.left) {
      before = left;
      film.advance(bay, bay, Seconds{15.0});
      now += 0.25;
      left = film.excess() / excess;
    }
    const double passed = now - 0.25 * (printed.left - left) / (before - left);
    before = left;
    CAPTURE(printed.left);
    // The printed run's grid is coarser: on 12 cells a sheet this solver gives 96.35, 125.0 and 191.6 min,
    // and 96.24, 124.89 and 191.41 on any fine one. Its 50 % is printed 0.27 min late.
    CHECK(std::abs(passed - printed.minutes) < 0.32);
  }
}

TEST_CASE("one layer without air layer dries as SUNDIALS CVODE says [CVODE: BDF, rtol 1e-8]") {
  const Surroundings bay = air(21.0, 0.5);
  const FilmStack film_alone{{layer(150.0, 5e-14, 17.0)}, 0.5};
  FilmStackSolver film(film_alone, whole, GramsPerSquareMetre{10.0}, MetresPerSecond{1e3}, bay);
  film.advance(bay, bay, Seconds{8.0 * hour});
  CHECK(film.dry_after() / hour == about(6.413874, 0.001));
}

TEST_SUITE_END();
TEST_SUITE_BEGIN("identities");

// t = w0/J - R Integral C (R_down/R)^2 dx for constant air, the film first in equilibrium. For
// one layer the correction is L^2/(3 D).
TEST_CASE("drying time and excess in closed form") {
  const Surroundings bay = air(18.0, 0.6);
  const double thickness = 150e-6;
  const double diffusivity = 5e-14 * 2487.8 / 17.0 * permeability_ratio(Celsius{18.0}, 13e3) *
                             (saturation_pressure(Celsius{18.0}) / Pascal{2487.8});
  const double flux = 1000.0 * 17.0 * diffusivity * (1.0 - 0.6) / thickness;  // g/(m2 s)
  const double expected = 7.0 / flux - thickness * thickness / (3.0 * diffusivity);
  const FilmStack one{{layer(150.0, 5e-14, 17.0)}, 0.5};
  FilmStackSolver film(one, whole, GramsPerSquareMetre{7.0}, MetresPerSecond{1e4}, bay);
  film.advance(bay, bay, Seconds{expected});
  CHECK(film.excess() + film.water() == about(0.4 * 17e3 * thickness / 2.0, 1e-4));
  film.advance(bay, bay, Seconds{600.0});
  CHECK(film.dry_after() == about(expected, 3e-5));
}

TEST_CASE("water is neither made nor lost, whatever the night") {
  FilmStack stack = baseline();
  stack.layers[0].activation_energy = 25e3;
  const std::array<Surroundings, 6> night{air(24.0, 0.45, 27.0), air(17.0, 0.7, 15.0), air(12.0, 0.85, 9.0),
                                          air(12.0, 0.80, 12.5), air(22.0, 0.4, 18.0), air(24.0, 0.35, 35.0)};
  for (const WaterLayer& layer : {whole, patchy}) {
    FilmStackSolver film(stack, layer, GramsPerSquareMetre{6.0}, still_bay, night[0]);
    const double first = film.water() + film.film_water();
    for (std::size_t i = 1; i < night.size(); ++i) {
      film.advance(night[i - 1], night[i], Seconds{3.0 * hour});
      CHECK(film.water() + film.film_water() + film.evaporated() == about(first, 1e-10));
      CHECK(film.water() >= 0.0);
    }
  }
}

TEST_CASE("dew outside holds the film at saturation: no liquid is drawn under it") {
  const Surroundings cold = air(22.0, 0.7, 8.0);
  FilmStackSolver film(baseline(), patchy, GramsPerSquareMetre{3.0}, still_bay, cold);
  film.advance(cold, cold, Seconds{12.0 * hour});
  CHECK(film.water() == about(3.0, 1e-9));
}

TEST_CASE("a tighter tolerance changes the drying time by less than 1e-5") {
  const Surroundings evening = air(22.0, 0.45, 22.0);
  const Surroundings night = air(13.0, 0.75, 12.0);
  double hours[2];
  for (int i = 0; i < 2; ++i) {
    FilmStackSolver film(baseline(), whole, GramsPerSquareMetre{6.0}, still_bay, evening,
                         i == 0 ? 1e-6 : 1e-7);
    film.advance(evening, night, Seconds{4.0 * hour});
    film.advance(night, night, Seconds{30.0 * hour});
    REQUIRE(film.dry());
    hours[i] = film.dry_after() / hour;
  }
  CHECK(hours[0] == about(hours[1], 1e-5));
}

// What models/README.md leaves out: sorption that rises by 14 % in 10 K. By hand, the water fills the film by
// the profile's square, Integral S v^2 dx with v = 1, 0.7527, 0.1963, 0.0109 at the sheets' faces: 0.781 g/m2
// per unit activity. Of 14 % more, at 0.5, 0.0547 g/m2 are drawn at 0.8305 g/(m2 h): 0.0658 h of 11.572. What
// dries by itself does so in S times R.
TEST_CASE("sorption that rises with the temperature, left out: liquid 0.6 % sooner, excess 14 % later") {
  constexpr double more = 1.14;
  FilmStack warmer = baseline();
  for (Layer& sheet : warmer.layers) {
    sheet.sorption *= more;
  }
  const Surroundings bay = air(21.0, 0.5);
  const auto dried = [&](const FilmStack& stack) {
    FilmStackSolver film(stack, whole, GramsPerSquareMetre{10.0}, still_bay, bay);
    film.advance(bay, bay, Seconds{12.0 * hour});
    return film.dry_after();
  };
  const double usual_end = dried(baseline());
  const double warmer_end = dried(warmer);
  CHECK(std::abs((usual_end - warmer_end) / hour - 0.0658) < 0.001);
  CHECK(std::abs(1.0 - warmer_end / usual_end - 0.006) < 0.0005);

  const auto left = [&](const FilmStack& stack, double end, double after) {
    FilmStackSolver film(stack, whole, GramsPerSquareMetre{10.0}, still_bay, bay);
    film.advance(bay, bay, Seconds{end});
    const double first = film.excess();
    film.advance(bay, bay, Seconds{after});
    return film.excess() / first;
  };
  CHECK(left(warmer, warmer_end, more * hour) == about(left(baseline(), usual_end, hour), 2e-3));
}

TEST_SUITE_END();
