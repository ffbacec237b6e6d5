#include "models/air_block.hpp"

#include <doctest/doctest.h>

#include <array>
#include <bit>
#include <cmath>
#include <cstdint>
#include <random>
#include <span>
#include <vector>

#include "models/film_course.hpp"
#include "support/grid.hpp"
#include "usual_film.hpp"

using namespace dryclock::models;
using drying_cases::air;

namespace {

FilmCourse course(const Surroundings& at_lay, double alcohol) {
  CourseSpec spec;
  spec.stack.layers = {
      {.name = "adhesive", .thickness = Metres{40e-6}, .permeability = Permeability{3e-14}, .sorption = 4.5},
      {.name = "film", .thickness = Metres{150e-6}, .permeability = Permeability{5e-14}, .sorption = 17.0},
      {.name = "topcoat", .thickness = Metres{10e-6}, .permeability = Permeability{1e-14}, .sorption = 15.0}};
  spec.solution.alcohol_fraction = alcohol;
  spec.usual_water = GramsPerSquareMetre{10.0};
  Lanes factor{};
  for (std::size_t m = 0; m < members; ++m) {
    factor[m] = std::exp(0.25 * static_cast<double>(m) - 1.0);
  }
  return {spec, factor, at_lay};
}

// A bay's day with what its sensor, its heater or its door adds to it.
enum class Unrest { none, sensor, heater, door };
std::vector<Surroundings> readings(Unrest unrest, double spacing, double hours) {
  std::mt19937_64 random{5};
  std::normal_distribution<double> normal;
  std::vector<Surroundings> all;
  for (const double t : dryclock::test::grid(0.0, hours * 3600.0, spacing)) {
    const double day = 2.0 * 3.14159265358979 * t / 86'400.0;
    double air_c = 21.0 + 2.0 * std::sin(day), humidity = 0.52 - 0.07 * std::sin(day);
    if (unrest == Unrest::sensor) {
      air_c += 0.1 * normal(random);
      humidity += 0.01 * normal(random);
    } else if (unrest == Unrest::heater) {
      air_c += std::sin(144.0 * day);
      humidity -= 0.03 * std::sin(144.0 * day);
    } else if (unrest == Unrest::door && std::fmod(t, 7200.0) < 600.0) {
      air_c -= 6.0;
      humidity += 0.15;
    }
    all.push_back(air(air_c, humidity));
  }
  return all;
}

}  // namespace

TEST_SUITE_BEGIN("air_block");

TEST_CASE("drying time by blocks within 0.1 % of steps from reading to reading, whatever the air's unrest") {
  for (const double alcohol : {0.0, 0.1}) {
    for (const Unrest unrest : {Unrest::none, Unrest::sensor, Unrest::heater, Unrest::door}) {
      CAPTURE(alcohol);
      CAPTURE(static_cast<int>(unrest));
      const auto all = readings(unrest, 60.0, 6.0);
      FilmCourse steps = course(all.front(), alcohol);
      FilmCourse blocks = steps;
      for (std::size_t i = 1; i < all.size(); ++i) {
        steps.advance(all[i - 1], all[i], Seconds{60.0});
      }
      blocks.advance(all, Seconds{60.0});
      // Water is gone when the film has drunk it: what it drank in six hours, at six hours' pace.
      for (std::size_t m = 0; m < members; ++m) {
        CHECK(steps.now().drunk[m] > 0.0);
        CHECK(std::abs(blocks.now().drunk[m] / steps.now().drunk[m] - 1.0) <= 1e-3);
      }
    }
  }
}

TEST_CASE("two readings are one interval, bit for bit; none, one or no time between them change nothing") {
  const std::vector<Surroundings> two = {air(21.0, 0.5), air(19.0, 0.6)};
  FilmCourse interval = course(two[0], 0.0);
  FilmCourse points = interval;
  points.advance(std::span<const Surroundings>{}, Seconds{60.0});
  points.advance(std::span(two).first(1), Seconds{60.0});
  points.advance(two, Seconds{0.0});
  interval.advance(two[0], two[1], Seconds{60.0});
  points.advance(two, Seconds{60.0});
  CHECK(points.now().seconds == 60.0);
  using Bits = std::array<std::uint64_t, members>;
  CHECK(std::bit_cast<Bits>(interval.now().drunk) == std::bit_cast<Bits>(points.now().drunk));
  CHECK(std::bit_cast<Bits>(interval.now().film_time) == std::bit_cast<Bits>(points.now().film_time));
}

TEST_CASE("a block ends before a jump, a reading out of range, and at half an hour") {
  const PanelThermal steel;
  std::vector<Surroundings> all(121, air(21.0, 0.5));
  CHECK(AirBlock(all[0], {21.0, 21.0}, steel).gather(all, Seconds{60.0}) == 30);
  all[17] = air(21.0, 0.7);
  CHECK(AirBlock(all[0], {21.0, 21.0}, steel).gather(all, Seconds{60.0}) == 15);
  all[17] = air(std::nan(""), 0.5);
  CHECK(AirBlock(all[0], {21.0, 21.0}, steel).gather(all, Seconds{60.0}) == 15);
  CHECK(AirBlock(all[0], {30.0, 30.0}, steel).gather(all, Seconds{60.0}) == 0);
}

TEST_SUITE_END();
