// Whole drying nights by models/ against SUNDIALS CVODE on an independently written model.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <iostream>
#include <limits>
#include <string>
#include <utility>
#include <vector>

#include "models/film_course.hpp"
#include "models/film_stack.hpp"
#include "models/water_layer.hpp"
#include "night_by_cvode.hpp"
#include "random_nights.hpp"
#include "support/grid.hpp"

using namespace dryclock;
using reference::Course;
using reference::Moment;
using reference::Night;

namespace {

constexpr double never = std::numeric_limits<double>::infinity();

// What is asked of models/: drying time within 0.1 %, water within 0.5 % of the first water, at every hour.
constexpr double time_tolerance = 1e-3;
constexpr double water_tolerance = 5e-3;
models::WaterLayer layer_of(const Night& night) {
  return {models::GramsPerSquareMetre{night.break_up}, models::GramsPerSquareMetre{0.05}};
}

// models/ take air that is linear from step to step; a jump is given to them as a step so short that nothing
// dries.
constexpr double jump = 1e-3;  // s

// Calls step(from, to, seconds) over the night's air, cut at `times` and into steps of at most `longest`;
// calls seen(i) at times[i].
template <class Step, class Seen>
void walk(const Night& night, const std::vector<double>& times, double longest, Step step, Seen seen) {
  std::size_t next = 0;
  for (std::size_t i = 0; i + 1 < night.air.size() && next < times.size(); ++i) {
    const Moment &a = night.air[i], &b = night.air[i + 1];
    if (a.at == b.at) {
      step(a, b, jump);
      continue;
    }
    double now = a.at;
    while (now < b.at && next < times.size()) {
      const double to = std::min({now + longest, b.at, times[next]});
      if (to > now) {
        step(reference::between(a, b, now), reference::between(a, b, to), to - now);
        now = to;
      }
      if (now >= times[next]) {
        seen(next++);
      }
    }
  }
}

Course by_fine_grid(const Night& night, const std::vector<double>& times) {
  models::FilmStackSolver film{
      reference::stack_of(night), layer_of(night), models::GramsPerSquareMetre{night.water},
      models::MetresPerSecond{night.air_layer}, reference::surroundings(night.air.front())};
  Course course;
  walk(
      night, times, 1e9,
      [&](const Moment& from, const Moment& to, double seconds) {
        film.advance(reference::surroundings(from), reference::surroundings(to), models::Seconds{seconds});
      },
      [&](std::size_t) {
        course.water.push_back(film.water());
        course.film_water.push_back(film.film_water());
      });
  course.dry_after = film.dry_after();
  return course;
}

Course by_modes(const Night& night, const std::vector<double>& times, double longest) {
  models::CourseSpec spec;
  spec.stack = reference::stack_of(night);
  spec.air_layer_coefficient = night.air_layer;
  models::Lanes factor{};
  factor.fill(1.0);
  models::FilmCourse film{spec, factor, reference::surroundings(night.air.front())};
  const models::WaterLayer layer = layer_of(night);
  const double first = layer.coordinate(night.water), limit = layer.coordinate(layer.dry_limit);
  Course course;
  double last = first;
  walk(
      night, times, longest,
      [&](const Moment& from, const Moment& to, double seconds) {
        film.advance(reference::surroundings(from), reference::surroundings(to), models::Seconds{seconds});
        // The liquid's coordinate falls by the flux, in a straight line over so short a step.
        const double now = first - film.now().drunk[0];
        if (course.dry_after == never && now <= limit) {
          course.dry_after = from.at + seconds * (last - limit) / (last - now);
        }
        last = now;
      },
      [&](std::size_t) { course.water.push_back(layer.water(last)); });
  return course;
}

struct Misfit {
  double time = 0.0, seconds = 0.0, water = 0.0, film = 0.0;  // shares, but for seconds
};

// Collects misfits and prints what they come to.
class Tally {
 public:
  explicit Tally(std::string name) : name_(std::move(name)) {}
  Tally(const Tally&) = delete;
  Tally& operator=(const Tally&) = delete;
  ~Tally() {
    const auto worst = [&](double Misfit::*what) {
      double most = 0.0;
      for (const Misfit& m : all_) {
        most = std::max(most, m.*what);
      }
      return most;
    };
    std::vector<double> times;
    for (const Misfit& m : all_) {
      times.push_back(m.time * 100);
    }
    std::sort(times.begin(), times.end());
    const auto beyond =
        std::count_if(times.begin(), times.end(), [](double t) { return t > time_tolerance * 100; });
    std::cout << name_ << ", " << all_.size() << " nights: drying time median " << times[times.size() / 2]
              << " %, 95th " << times[times.size() * 95 / 100] << " %, worst " << times.back() << " % ("
              << beyond << " beyond 0.1 %; at most " << worst(&Misfit::seconds) << " s); water at worst "
              << worst(&Misfit::water) * 100 << " %, film water " << worst(&Misfit::film) * 100 << " %\n";
  }
  Misfit add(const Misfit& misfit) {
    all_.push_back(misfit);
    return misfit;
  }

 private:
  std::string name_;
  std::vector<Misfit> all_;
};

Misfit compare(const Night& night, const Course& truth, const Course& other) {
  Misfit misfit;
  if (std::isfinite(truth.dry_after) || std::isfinite(other.dry_after)) {
    misfit.time = std::abs(other.dry_after / truth.dry_after - 1.0);
    misfit.seconds = std::abs(other.dry_after - truth.dry_after);
  }
  for (std::size_t i = 0; i < truth.water.size(); ++i) {
    misfit.water = std::max(misfit.water, std::abs(other.water[i] - truth.water[i]) / night.water);
    if (!other.film_water.empty()) {
      misfit.film =
          std::max(misfit.film, std::abs(other.film_water[i] - truth.film_water[i]) / truth.film_water[0]);
    }
  }
  return misfit;
}

std::vector<double> every_hour(double until) {
  return dryclock::test::grid(3600.0, until, 3600.0);
}

int cases() {
  return std::getenv("DRYCLOCK_LONG") != nullptr ? 500 : 60;
}

}  // namespace

TEST_SUITE_BEGIN("reference");

TEST_CASE("[Crank1975: eq 4.18, section 4.3.3] the reference model itself: time lag and exact drying time") {
  // Constant air, one sheet, no air layer, film first in equilibrium: t = w0/J - L^2/(3 D), exactly.
  Night night;
  night.sheets = {{150e-6, 5e-14, 17.0, 0.0, 100}};
  night.water = 10.0;
  night.air_layer = 1e6;
  night.air = {{0.0, 21.0, 0.5, 21.0}, {86'400.0, 21.0, 0.5, 21.0}};
  const double saturation =
      std::exp(-5800.2206 / 294.15 + 1.3914993 - 0.048640239 * 294.15 + 4.1764768e-5 * 294.15 * 294.15 -
               1.4452093e-8 * std::pow(294.15, 3) + 6.5459673 * std::log(294.15));
  const double flux = 5e-14 * 0.5 * saturation / 150e-6, diffusivity = 5e-14 * saturation / 17.0;
  const double exact = 0.010 / flux - 150e-6 * 150e-6 / (3.0 * diffusivity);
  CHECK(reference::solve(night, {86'400.0}).dry_after == doctest::Approx(exact).epsilon(1e-5).scale(0.0));
}

TEST_CASE("[Geankoplis2003: example 7.1-1] the reference model itself: unsteady diffusion in a slab") {
  // Agar 10.16 mm thick, D 4.72e-10 m2/s, 10 h, both faces at 0; sealed in the middle plane here. Printed,
  // read from a chart: 0.172 at 2.54 mm from the surface; 0.0020 in the middle of half the thickness. The
  // middle of the slab is printed as 0.275; the series gives 0.251 and so does this model: the chart was
  // misread there, it is not checked.
  Night slab;
  slab.air = {{0.0, 21.0, 0.0, 21.0}, {36'000.0, 21.0, 0.0, 21.0}};
  slab.air_layer = 1e9;
  slab.start_pa = 1000.0;
  const double saturation = 2487.667;
  const auto share = [&](double thickness, int cells, double depth) {
    // D = P p_sat/S with S = 1. The part from the middle plane to `depth` and the part outside it are two
    // sheets, so that a cell's face lies there.
    slab.sheets = {{thickness - depth, 4.72e-10 / saturation, 1.0, 0.0, cells},
                   {depth, 4.72e-10 / saturation, 1.0, 0.0, cells}};
    return reference::solve(slab, {36'000.0});
  };
  CHECK(share(2.54e-3, 100, 1.27e-3).innermost[0] / 1000.0 ==
        doctest::Approx(0.0020).epsilon(0.05).scale(0.0));
  // At 2.54 mm the series is cos(pi/4) of the middle.
  CHECK(share(5.08e-3, 100, 2.54e-3).innermost[0] / 1000.0 * std::sqrt(0.5) ==
        doctest::Approx(0.172).epsilon(0.05).scale(0.0));
}

TEST_CASE(
    "[CVODE: random nights] stacks of one activation energy: fine grid and modes dry like an independent "
    "model") {
  Tally grid{"fine grid"}, modes{"modes"};
  for (int seed = 1; seed <= cases(); ++seed) {
    CAPTURE(seed);
    const Night night = reference::random_night(static_cast<std::uint64_t>(seed), reference::Energies::alike);
    const auto times = every_hour(7 * 86'400.0);
    const Course truth = reference::solve(night, times);
    const Misfit by_grid = grid.add(compare(night, truth, by_fine_grid(night, times)));
    const Misfit by_mode = modes.add(compare(night, truth, by_modes(night, times, 30.0)));
    CHECK(by_grid.time <= time_tolerance);
    CHECK(by_grid.water <= water_tolerance);
    CHECK(by_grid.film <= water_tolerance);
    CHECK(by_mode.time <= time_tolerance);
    CHECK(by_mode.water <= water_tolerance);
  }
}

// Outside the stated validity of the modes (film_modes.hpp): they take the sheets' shares of the resistance
// as those of 21 C, which unlike energies move by a few per cent. Their errors are printed; the fine grid is
// held to its tolerances.
TEST_CASE(
    "[CVODE: random nights] stacks of unlike activation energies: fine grid; the modes' errors printed") {
  Tally grid{"fine grid, unlike energies"}, modes{"modes, unlike energies"};
  for (int seed = 1; seed <= cases(); ++seed) {
    CAPTURE(seed);
    const Night night =
        reference::random_night(static_cast<std::uint64_t>(seed), reference::Energies::unlike);
    const auto times = every_hour(7 * 86'400.0);
    const Course truth = reference::solve(night, times);
    const Misfit by_grid = grid.add(compare(night, truth, by_fine_grid(night, times)));
    modes.add(compare(night, truth, by_modes(night, times, 60.0)));
    CHECK(by_grid.time <= time_tolerance);
    CHECK(by_grid.water <= water_tolerance);
  }
}

TEST_SUITE_END();
