// One drying night of one zone by the modes against SUNDIALS CVODE on the independent model of
// tests/reference, at the same error of the drying time: 0.1 %. Both run here, one after the other, on the
// same core.
#include <algorithm>
#include <cmath>
#include <limits>
#include <random>
#include <span>
#include <string>
#include <vector>

#include "models/air_block.hpp"
#include "models/film_modes.hpp"
#include "models/thermal_step.hpp"
#include "models/water_layer.hpp"
#include "models/zone.hpp"
#include "night_by_cvode.hpp"
#include "random_nights.hpp"
#include "stopwatch.hpp"
#include "support/grid.hpp"

using namespace dryclock;
using bench::figure;
using bench::seconds_of;
using reference::Moment;
using reference::Night;

namespace {

constexpr double allowed = 1e-3;  // relative error of the drying time

// The baseline stack in 42 cells, 8 g/m2 that break up at 1.5, over 16 h of an evening's cooling from 23 to
// 18 C.
Night night(double spacing, double noise_c, double noise_rh) {
  Night n;
  n.sheets = {{40e-6, 3e-14, 4.5, 13e3, 12}, {150e-6, 5e-14, 17.0, 13e3, 22}, {10e-6, 1e-14, 15.0, 13e3, 8}};
  n.water = 8.0;
  n.break_up = 1.5;
  n.dry_below = 0.05;
  std::mt19937_64 random{20};
  std::normal_distribution<double> normal;
  for (const double t : dryclock::test::grid(0.0, 20 * 3600.0, spacing)) {
    const double air_c = 20.5 + 2.5 * std::cos(t / (16 * 3600.0) * 3.14159265) + noise_c * normal(random);
    n.air.push_back({t, air_c, 0.45 + noise_rh * normal(random), air_c});
  }
  return n;
}

struct Modes {
  models::FilmModes modes;
  models::WaterLayer layer;
  explicit Modes(const Night& n)
      : modes(models::film_modes(reference::stack_of(n), models::MetresPerSecond{n.air_layer})),
        layer(models::GramsPerSquareMetre{n.break_up}, models::GramsPerSquareMetre{n.dry_below}) {}

  // The night in blocks of readings of at most `longest`, as FilmCourse::advance takes a span of them. The
  // time at which the first member is dry.
  [[nodiscard]] double dry_after(const Night& n, models::Seconds longest) const {
    const auto instant = [&](const models::Surroundings& air) {
      return models::instant(modes, models::Celsius{air.panel_c}, air.air, air.humidity,
                             models::MetresPerSecond{n.air_layer});
    };
    std::vector<models::Surroundings> air(n.air.size());
    std::transform(n.air.begin(), n.air.end(), air.begin(), [](const Moment& m) {
      models::Surroundings out;
      out.air = models::Celsius{m.air_c};
      out.humidity = models::Humidity{m.humidity};
      out.panel_c = m.panel_c;
      return out;
    });
    const models::Seconds spacing{n.air[1].at};
    models::Lanes water{}, factor{};
    water.fill(n.water);
    factor.fill(1.0);
    models::Zone zone{modes, layer, water, 0.0, instant(air.front()).activity, 0.0};
    models::ThermalStep step;
    double at = 0.0;
    double last = n.water;
    for (std::span<const models::Surroundings> points{air}; points.size() > 1;) {
      models::AirBlock block(points.front(), {}, {}, longest);
      const std::size_t taken = block.gather(points, spacing);
      const double duration = taken > 0 ? block.duration().value() : spacing.value();
      const auto half = taken > 0 ? block.middle() : models::between(points[0], points[1], 0.5);
      const auto& end = taken > 0 ? block.end() : points[1];
      models::prepare(step, modes, factor, instant(points.front()), instant(half), instant(end), duration);
      zone.advance(modes, step, 0.0, 0.0, 0.0);
      const double now = zone.water()[0];
      if (now < n.dry_below && last >= n.dry_below) {
        return at + duration * std::log(last / n.dry_below) / std::log(last / now);
      }
      last = now;
      at += duration;
      points = points.subspan(std::max<std::size_t>(taken, 1));
    }
    return std::numeric_limits<double>::infinity();
  }
};

double cvode(const Night& n, double relative) {
  reference::Settings settings;
  settings.relative = relative;
  settings.absolute_pa = relative * 1e3;
  settings.absolute_water = relative * 1.0;
  settings.restart_at_moments = false;
  settings.dried_area = false;
  return reference::solve(n, {n.air.back().at}, settings).dry_after;
}

// The loosest of CVODE's tolerances from which on the drying time is right.
double loosest(const Night& n, double truth) {
  double good = 1e-9;
  for (int doubled = 0; doubled < 28; ++doubled) {  // to 0.13
    const double relative = std::ldexp(1e-9, doubled);
    if (!(std::abs(cvode(n, relative) / truth - 1.0) <= allowed)) {
      break;
    }
    good = relative;
  }
  return good;
}

// The longest block of the modes up to which the drying time is right.
models::Seconds longest(const Modes& modes, const Night& n, double truth) {
  models::Seconds good{n.air[1].at};
  for (const double seconds : {300.0, 600.0, 900.0, 1200.0, 1800.0}) {
    if (!(std::abs(modes.dry_after(n, models::Seconds{seconds}) / truth - 1.0) <= allowed)) {
      break;
    }
    good = models::Seconds{seconds};
  }
  return good;
}

// The figure `name` is CVODE's time over ours. Ours is that of a zone with all its members; the ratio for
// each of them is the figure `per_member`.
void compare(const std::string& name, const std::string& per_member, const Night& n) {
  reference::Settings strict;
  strict.dried_area = false;
  const double truth = reference::solve(n, {n.air.back().at}, strict).dry_after;
  const Modes modes{n};
  const double relative = loosest(n, truth);
  const models::Seconds block = longest(modes, n, truth);
  figure((name + "_modes_block").c_str(), block.value() / 60.0, "min");
  figure((name + "_error_modes").c_str(), std::abs(modes.dry_after(n, block) / truth - 1.0), "1");
  figure((name + "_error_cvode").c_str(), std::abs(cvode(n, relative) / truth - 1.0), "1");
  figure((name + "_cvode_rtol").c_str(), relative, "1");
  const double ours = seconds_of([&] { static_cast<void>(modes.dry_after(n, block)); }, 15);
  const double theirs = seconds_of([&] { static_cast<void>(cvode(n, relative)); }, 7);
  figure((name + "_modes").c_str(), ours * 1e3, "ms");
  figure((name + "_cvode").c_str(), theirs * 1e3, "ms");
  figure(name.c_str(), theirs / ours, "1");
  figure(per_member.c_str(), theirs / ours * models::members, "1");
}

}  // namespace

int main(int argc, char** argv) {
  bench::pin();
  const std::string only = argc > 1 ? argv[1] : "";
  if (only.empty() || only == "night_vs_cvode_sensor") {
    compare("night_vs_cvode_sensor", "ensemble_vs_cvode", night(60.0, 0.1, 0.01));
  }
  if (only.empty() || only == "night_vs_cvode_smooth") {
    compare("night_vs_cvode_smooth", "ensemble_vs_cvode_smooth", night(300.0, 0.0, 0.0));
  }
}
