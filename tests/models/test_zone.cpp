#include "models/zone.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <random>
#include <vector>

#include "drying_cases.hpp"
#include "models/bond.hpp"

using namespace dryclock::models;
using namespace drying_cases;

namespace {

// A stack, a layer of water and nights of air, all drawn from credible ranges.
struct Case {
  FilmStack stack;
  double water;
  std::vector<Surroundings> air;  // one entry an hour
};

Case draw(std::mt19937& random, bool unlike_energies) {
  const auto between_logs = [&](double low, double high) {
    return low * std::pow(high / low, std::uniform_real_distribution<>{0.0, 1.0}(random));
  };
  const auto energy = [&] { return unlike_energies ? between_logs(10e3, 18e3) : 13e3; };
  Case drawn;
  drawn.stack = {{layer(between_logs(25, 60), between_logs(1.5e-14, 1e-13), between_logs(3, 10), energy()),
                  layer(between_logs(100, 220), between_logs(3e-14, 1.2e-13), between_logs(13, 20), energy()),
                  layer(between_logs(5, 25), between_logs(2e-15, 3e-14), between_logs(5, 20), energy())},
                 0.5};
  drawn.water = between_logs(3.0, 25.0);
  double t = between_logs(12.0, 26.0);
  double rh = between_logs(0.35, 0.75);
  for (int h = 0; h <= 24; ++h) {
    t = std::clamp(t + std::normal_distribution<>{0.0, 1.5}(random), 8.0, 32.0);
    rh = std::clamp(rh + std::normal_distribution<>{0.0, 0.04}(random), 0.25, 0.85);
    drawn.air.push_back(air(t, rh, t + std::normal_distribution<>{0.0, 0.7}(random)));
  }
  return drawn;
}

struct Misfit {
  double drying_time = 0.0;  // of the drying time
  double water = 0.0;        // of w0
  double excess = 0.0;       // of what a wet film holds above the air
};

// Both from lay to three hours after the later one is dry.
Misfit compare(const Case& c, const WaterLayer& layer) {
  ZoneRun fast(c.stack, layer, c.water, c.air[0]);
  FilmStackSolver slow(c.stack, layer, GramsPerSquareMetre{c.water}, still_bay, c.air[0], 1e-5);
  Misfit worst;
  int after = 0;
  for (std::size_t h = 0; after < 3 && h < 2000; ++h) {
    // Forth and back, so that the air never jumps.
    const std::size_t n = c.air.size() - 1;
    const auto at = [&](std::size_t i) { return c.air[(i / n) % 2 == 0 ? i % n : n - i % n]; };
    for (int part = 0; part < 4; ++part) {
      const Surroundings from = between(at(h), at(h + 1), 0.25 * part);
      const Surroundings to = between(at(h), at(h + 1), 0.25 * (part + 1));
      fast.advance(from, to, 0.25 * hour, 60);
      slow.advance(from, to, Seconds{0.25 * hour});
      worst.water = std::max(worst.water, std::abs(fast.water() - slow.water()) / c.water);
      const double scale = fast.modes().inner_content * 0.5;
      worst.excess = std::max(worst.excess, std::abs(fast.excess() - slow.excess()) / scale);
    }
    if (fast.dry() && slow.dry()) ++after;
  }
  REQUIRE(fast.dry());
  REQUIRE(slow.dry());
  worst.drying_time = std::abs(fast.dry_after() / slow.dry_after() - 1.0);
  return worst;
}

}  // namespace

TEST_SUITE_BEGIN("identities");

// Modes cut off, thermal time and the parabola in a_out: none of it may matter. Every sheet has E = 13
// kJ/mol.
TEST_CASE("zone follows the fine grid within 0.1 % of drying time and 0.5 % of the water") {
  std::mt19937 random(20260101);
  for (int i = 0; i < 16; ++i) {
    const Case c = draw(random, false);
    CAPTURE(i);
    for (const WaterLayer& layer : {whole, patchy}) {
      const Misfit misfit = compare(c, layer);
      CHECK(misfit.drying_time < 0.001);
      CHECK(misfit.water < 0.005);
      CHECK(misfit.excess < 0.01);
    }
  }
}

// Activation energies drawn from 10 to 18 kJ/mol (the measured range) for every sheet on its own: the steady
// flux stays exact, the shape of the storage does not.
TEST_CASE("unlike activation energies cost less than 0.5 % of the drying time") {
  std::mt19937 random(7);
  for (int i = 0; i < 16; ++i) {
    const Case c = draw(random, true);
    CAPTURE(i);
    const Misfit misfit = compare(c, patchy);
    CHECK(misfit.drying_time < 0.005);
    CHECK(misfit.water < 0.005);
    CHECK(misfit.excess < 0.03);
  }
}

TEST_CASE("water left and excess do not depend on how constant air is split") {
  const Surroundings bay = air(16.0, 0.65);
  for (const WaterLayer& layer : {whole, patchy}) {
    ZoneRun once(baseline(), layer, 6.0, bay);
    ZoneRun often(baseline(), layer, 6.0, bay);
    for (int hours = 0; hours < 30; ++hours) {
      once.advance(bay, bay, hour, 1);
      often.advance(bay, bay, hour, 60);
      CHECK(std::abs(once.water() - often.water()) < 6.0 * 1e-9);
      CHECK(std::abs(once.excess() - often.excess()) < 1e-5);
      CHECK(once.dry() == often.dry());
    }
  }
}

TEST_CASE("splitting a linear change of air changes the water by less than 1e-9 of it a step") {
  const Surroundings from = air(19.0, 0.50, 18.8);
  const Surroundings to = air(18.8, 0.51, 18.7);
  ZoneRun once(baseline(), patchy, 6.0, from);
  ZoneRun often(baseline(), patchy, 6.0, from);
  once.advance(from, to, 600.0, 1);
  often.advance(from, to, 600.0, 10);
  CHECK(once.water() == about(often.water(), 1e-9));
}

// Simpson in the steady flux, parabolas for what the modes see (thermal_step.hpp).
TEST_CASE("halving the step under a strong ramp: the error falls with its fourth power") {
  const Surroundings from = air(26.0, 0.35, 24.0);
  const Surroundings to = air(10.0, 0.70, 12.0);
  const auto water = [&](int pieces) {
    ZoneRun zone(baseline(), patchy, 12.0, from);
    zone.advance(from, to, 6.0 * hour, pieces);
    return zone.water();
  };
  const double exact = water(1024);
  double last = std::abs(water(2) - exact);
  CHECK(last < 0.01 * (12.0 - exact));
  for (const int pieces : {4, 8, 16}) {
    const double error = std::abs(water(pieces) - exact);
    MESSAGE(pieces << " steps: " << error << " g/m2, " << last / error << " times less");
    CHECK(last / error > 10.0);  // 16, less what the fastest modes still feel of so long a step
    last = error;
  }
}

TEST_CASE("air that jumps moves no water by itself") {
  const Surroundings damp = air(18.0, 0.7);
  const Surroundings dry = air(18.0, 0.35);
  ZoneRun zone(baseline(), patchy, 4.0, damp);
  FilmStackSolver film(baseline(), patchy, GramsPerSquareMetre{4.0}, still_bay, damp, 1e-6);
  for (int i = 0; i < 24; ++i) {
    const Surroundings& bay = i % 2 == 0 ? dry : damp;
    zone.advance(bay, bay, hour, 6);
    film.advance(bay, bay, Seconds{hour});
    CHECK(std::abs(zone.water() - film.water()) < 4.0 * 0.001);
    CHECK(std::abs(zone.excess() - film.excess()) < 0.01);
  }
}

// Without an air layer, whose share of the resistance moves with the temperature; it is a hundredth.
TEST_CASE("as many standard hours dry a zone, however the bay delivers them") {
  const MetresPerSecond no_air_layer{1e9};
  const Surroundings standard = air(21.0, 0.5);
  const Surroundings cold = air(12.0, 0.5);
  const FilmModes modes = film_modes(baseline(), no_air_layer);
  const auto rate = [&](const Surroundings& s) {
    return thermal_rate(instant(modes, s.air, s.air, s.humidity, no_air_layer), 1.0);
  };
  ZoneRun warm(baseline(), patchy, 5.0, standard, no_air_layer);
  ZoneRun slow(baseline(), patchy, 5.0, cold, no_air_layer);
  for (int i = 0; i < 12; ++i) {
    warm.advance(standard, standard, hour);
    slow.advance(cold, cold, hour * rate(standard) / rate(cold));
    CHECK(slow.water() == about(warm.water(), 1e-9));
    CHECK(slow.excess() == doctest::Approx(warm.excess()).epsilon(1e-9));
  }
}

TEST_CASE("drier air, less water, a warmer panel: never later") {
  const auto hours = [](double water, const Surroundings& bay) {
    ZoneRun zone(baseline(), patchy, water, bay);
    while (!zone.dry()) {
      zone.advance(bay, bay, 600.0);
    }
    return zone.dry_after() / hour;
  };
  double last = 0.0;
  for (const double humidity : {0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9}) {
    const double now = hours(5.0, air(18.0, humidity));
    CHECK(now > last);
    last = now;
  }
  last = 0.0;
  for (const double water : {0.1, 0.5, 1.0, 1.5, 2.0, 5.0, 20.0}) {
    const double now = hours(water, air(18.0, 0.5));
    CHECK(now >= last);
    last = now;
  }
  last = 1e9;
  for (const double panel : {10.0, 12.0, 15.0, 18.0, 21.0, 30.0, 45.0}) {
    const double now = hours(5.0, air(18.0, 0.5, panel));
    CHECK(now < last);
    last = now;
  }
}

TEST_CASE("standard hours to go are what the zone then takes") {
  const Surroundings standard = air(21.0, 0.5);
  for (const Surroundings& before : {air(21.0, 0.5), air(12.0, 0.8), air(28.0, 0.3)}) {
    for (const double water : {1.2, 3.0, 10.0}) {
      ZoneRun zone(baseline(), patchy, water, before);
      zone.advance(before, before, 0.7 * hour, 4);
      const double expected = zone.standard_hours();
      ZoneRun rest = zone;
      double start = 0.7;
      while (!rest.dry()) {
        rest.advance(standard, standard, 30.0);
      }
      CHECK(rest.dry_after() / hour - start == about(expected, 0.002));
    }
  }
}

// Total water against the flux through the outer face, integrated from the fine grid's account.
TEST_CASE("liquid and film lose together what the fine grid sees evaporate") {
  const Surroundings bay = air(21.0, 0.5);
  ZoneRun zone(baseline(), patchy, 4.0, bay);
  FilmStackSolver film(baseline(), patchy, GramsPerSquareMetre{4.0}, still_bay, bay, 1e-7);
  for (int i = 0; i < 60; ++i) {
    zone.advance(bay, bay, 600.0);
    film.advance(bay, bay, Seconds{600.0});
    const double left = 4.0 - zone.water() - zone.excess();
    CHECK(std::abs(left - film.evaporated()) < 4.0 * 3e-4);
  }
}

TEST_CASE("bond is the mean over bits that dried at different times") {
  // A front that crosses the zone at even speed in L while the clock runs: the bits' ages are even too.
  const FilmModes modes = film_modes(baseline(), still_bay);
  const Surroundings bay = air(21.0, 0.5);
  const Instant now = instant(modes, bay.air, bay.air, bay.humidity, still_bay);
  const double width = 0.010;
  Zone zone(modes, whole, ZoneRun::all(1e4), 0.0, 0.5, width);
  ThermalStep step;
  const int steps = 4000;
  const double seconds = 10.0;
  prepare(step, modes, ZoneRun::all(1.0), now, now, now, seconds);
  for (int i = 0; i < steps; ++i) {
    const double a = width * i / steps;
    const double b = width * (i + 1) / steps;
    zone.advance(modes, step, b * b - a * a, i * seconds, (i + 1) * seconds);
  }
  double expected = 0.0;
  for (int i = 0; i < 1000; ++i) {
    expected += bond_fraction(steps * seconds * (i + 0.5) / 1000.0) / 1000.0;
  }
  CHECK(zone.bond(steps * seconds, 0) == about(expected, 0.01));
}

TEST_SUITE_END();
