#include "models/thermal_step.hpp"

#include <algorithm>

#include "models/lane_loops.hpp"

namespace dryclock::models {
namespace {

constexpr double nothing_left = 40.0;  // e^-40 is below the last digit of what a mode was

}  // namespace

void prepare(ThermalStep& step, const FilmModes& modes, const Lanes& factor, const Instant& begin,
             const Instant& middle, const Instant& end, double seconds, Bases bases) {
  step.activity_before = begin.activity;
  step.activity_after = end.activity;
  step.highest_activity = std::max({begin.activity, middle.activity, end.activity});

  // Where the middle lies in the film's thermal time.
  const double r0 = begin.saturation / begin.film;
  const double r1 = middle.saturation / middle.film;
  const double r2 = end.saturation / end.film;
  const double x = (5.0 * r0 + 8.0 * r1 - r2) / (4.0 * (r0 + 4.0 * r1 + r2));
  Lanes inverse{};
  Boundary wet;
  integrate(factor, {begin, middle, end, seconds, x, modes.air_share}, step, inverse, wet);

  const double shortest = *std::min_element(step.film_span.begin(), step.film_span.end());
  const auto fill = [&](double rate, double projection, const Boundary& outside, Lanes& decay, Lanes& drive) {
    if (rate * shortest > nothing_left) {
      follow(inverse, rate, projection, outside, decay, drive);
    } else {
      respond(step.film_span, inverse, rate, projection, outside, decay, drive);
    }
  };
  for (std::size_t k = 0; k < wet_modes; ++k) {
    fill(modes.wet_rate[k], modes.outer[k], wet, step.wet_decay[k], step.wet_drive[k]);
  }
  if (bases == Bases::wet) return;
  const double change = end.activity - begin.activity;
  Boundary dry;
  dry.change.fill(change);
  dry.bend.fill((middle.activity - begin.activity - change * x) / (x * (x - 1.0)));
  for (std::size_t j = 0; j < dry_modes; ++j) {
    fill(modes.dry_rate[j], modes.dry_content[j], dry, step.dry_decay[j], step.dry_drive[j]);
  }
}

}  // namespace dryclock::models
