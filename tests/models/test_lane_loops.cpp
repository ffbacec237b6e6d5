// The loops over members at every width that this processor has: the scalar path against the packs.
#include "models/lane_loops.hpp"

#include <doctest/doctest.h>

#include <cstring>
#include <random>
#include <vector>

#include "drying_cases.hpp"
#include "models/film_course.hpp"
#include "models/zone.hpp"
#include "support/grid.hpp"

using namespace dryclock::models;
using namespace drying_cases;

namespace {

class WidthKept {
 public:
  WidthKept() : width_(lane_width()) {}
  WidthKept(const WidthKept&) = delete;
  WidthKept& operator=(const WidthKept&) = delete;
  ~WidthKept() { use_lane_width(width_); }

 private:
  std::size_t width_;
};

// What a random zone and a random course hold over two days of random air: every number that left a loop.
std::vector<double> shown(std::uint64_t seed) {
  std::mt19937_64 random(seed);
  const auto draw = [&](double low, double high) {
    return low + (high - low) * static_cast<double>(random() >> 11U) * 0x1p-53;
  };
  Lanes factor{}, wet{};
  for (std::size_t m = 0; m < members; ++m) {
    factor[m] = std::exp(draw(-1.0, 1.0));
    wet[m] = std::exp(draw(-1.0, 3.0));
  }
  CourseSpec spec;
  spec.stack = baseline();
  spec.solution.alcohol_fraction = seed % 3 == 0 ? draw(0.0, 0.3) : 0.0;
  const double break_up = seed % 4 == 0 ? 0.0 : draw(0.2, 3.0);
  Surroundings from = air(draw(5.0, 35.0), draw(0.2, 0.9));
  FilmCourse course(spec, factor, from);
  const FilmModes modes = film_modes(baseline(), still_bay);
  const auto sense = [&](const Surroundings& s) {
    return instant(modes, s.air, s.air, s.humidity, still_bay);
  };
  Zone zone(modes, WaterLayer{GramsPerSquareMetre{break_up}, GramsPerSquareMetre{0.05}}, wet,
            spec.solution.alcohol_fraction, sense(from).activity, 0.01);
  ThermalStep thermal;
  std::vector<double> all;
  double clock = 0.0;
  for (int i = 0; i < 100; ++i) {
    const Surroundings to = air(draw(5.0, 35.0), draw(0.2, 0.9));
    const double seconds = draw(1.0, 3600.0);
    course.advance(from, to, Seconds{seconds});
    prepare(thermal, modes, factor, sense(from), sense(between(from, to, 0.5)), sense(to), seconds);
    zone.advance(modes, thermal, 1e-9 * seconds, clock, clock + seconds);
    clock += seconds;
    from = to;
    all.push_back(zone.bond(clock, static_cast<std::size_t>(i) % members));
    for (const Lanes& lanes : {course.now().drunk, course.now().film_time, zone.water(), zone.excess(modes),
                               zone.standard_hours(modes, factor, 0.1)}) {
      all.insert(all.end(), lanes.begin(), lanes.end());
    }
  }
  return all;
}

}  // namespace

TEST_SUITE_BEGIN("identities");

TEST_CASE("every width of packs gives the bits of one lane at a time") {
  const WidthKept kept;
  int widths = 0;
  for (std::uint64_t seed = 1; seed <= 24; ++seed) {
    CAPTURE(seed);
    REQUIRE(use_lane_width(8));
    const std::vector<double> scalar = shown(seed);
    for (const std::size_t width : {std::size_t{16}, std::size_t{32}, std::size_t{64}}) {
      if (!use_lane_width(width)) continue;
      CAPTURE(width);
      ++widths;
      const std::vector<double> packed = shown(seed);
      REQUIRE(packed.size() == scalar.size());
      CHECK(std::memcmp(packed.data(), scalar.data(), scalar.size() * sizeof(double)) == 0);
    }
  }
  CHECK(widths >= 24);
}

// Against the C library's exp.
TEST_CASE("exponential of the lanes") {
  double worst = 0.0;
  for (const double x : dryclock::test::grid(-699.0, 699.0, 0.0917)) {
    worst = std::max(worst, std::abs(lane_exp(x) / std::exp(x) - 1.0));
  }
  CHECK(worst < 2e-14);
  CHECK(lane_exp(0.0) == 1.0);
  CHECK(lane_exp(-1e300) < 1e-300);
}

TEST_CASE("a width that no processor has is refused") {
  const WidthKept kept;
  CHECK_FALSE(use_lane_width(24));
  CHECK_FALSE(use_lane_width(128));
}

TEST_SUITE_END();
