#include "models/film_course.hpp"

#include <algorithm>
#include <cmath>

#include "models/air_block.hpp"
#include "models/air_layer.hpp"
#include "models/safe_input.hpp"
#include "models/thermal_step.hpp"
#include "models/water_layer.hpp"

namespace dryclock::models {

FilmCourse::FilmCourse(const CourseSpec& spec, const Lanes& factor, const Surroundings& at_lay)
    : factor_(factor),
      still_air_(safe_number(spec.air_layer_coefficient, 1e-5, 1.0, CourseSpec{}.air_layer_coefficient)),
      stagnant_(spec.stagnant),
      alcohol_fraction_(safe_number(spec.solution.alcohol_fraction, 0.0, 0.5, 0.0)),
      usual_water_(safe_number(spec.usual_water.value(), 1e-3, 1e4, CourseSpec{}.usual_water.value())),
      steps_(spec.panel, spec.panel_at_lay, at_lay) {
  const Surroundings air = made_safe(at_lay);
  const Celsius panel{steps_.panel_c()};
  modes_ = std::make_shared<FilmModes>(film_modes(spec.stack, stagnant_ ? stagnant_air : still_air_, panel));
  const double outside = sense(air, panel.value()).activity;
  Lanes over_liquid{};
  over_liquid.fill(std::max(outside, water_activity(alcohol_fraction_, 1.0)));
  film_ = WetFilm(*modes_, outside, over_liquid, liquid_);
}

Instant FilmCourse::sense(const Surroundings& air, double panel_c) const {
  return instant(*modes_, Celsius{panel_c}, air.air, air.humidity,
                 stagnant_ ? stagnant_air : over_film(still_air_, air.air_speed, air.air));
}

void FilmCourse::step(const AirStep& at) {
  const auto simpson = [&](double begin, double middle, double end) {
    return at.seconds / 6.0 * (begin + 4.0 * middle + end);
  };
  for (std::size_t law = 0; law < bond_laws; ++law) {
    const auto rate = [&](double panel_c) { return bond_rate(Celsius{panel_c}, static_cast<BondLaw>(law)); };
    now_.clock[law] += simpson(rate(at.begin_c), rate(at.middle_c), rate(at.end_c));
  }
  if (!stagnant_) {
    now_.front_squared += simpson(front_rate(Celsius{at.begin_c}, at.begin.air, at.begin.humidity),
                                  front_rate(Celsius{at.middle_c}, at.middle.air, at.middle.humidity),
                                  front_rate(Celsius{at.end_c}, at.end.air, at.end.humidity));
  }

  ThermalStep thermal;
  prepare(thermal, *modes_, factor_, sense(at.begin, at.begin_c), sense(at.middle, at.middle_c),
          sense(at.end, at.end_c), at.seconds, Bases::wet);
  film_.move_outside(*modes_, thermal.outer_before, liquid_);
  if (alcohol_fraction_ > 0.0) {
    Lanes activity{};
    for (std::size_t m = 0; m < members; ++m) {
      const double left = 1.0 + liquid_[m] / usual_water_;
      activity[m] = std::max(thermal.highest_activity, water_activity(alcohol_fraction_, left));
    }
    film_.raise(*modes_, activity, liquid_);
  }
  film_.advance(*modes_, thermal, liquid_);
  now_.seconds += at.seconds;
  for (std::size_t m = 0; m < members; ++m) {
    // Nothing wets the liquid from the film; what the modes left out follow at once must not seem to.
    now_.drunk[m] = std::max(now_.drunk[m], -liquid_[m]);
    now_.film_time[m] += thermal.film_span[m];
  }
}

void FilmCourse::advance(const Surroundings& from, const Surroundings& to, Seconds duration) {
  if (!(duration.value() > 0.0) || !std::isfinite(duration.value())) return;
  steps_.interval(from, to, duration, [this](const AirStep& at) { step(at); });
}

void FilmCourse::advance(std::span<const Surroundings> points, Seconds spacing) {
  if (!(spacing.value() > 0.0) || !std::isfinite(spacing.value())) return;
  const Seconds longest = alcohol_fraction_ > 0.0 ? panel_step : longest_block;
  steps_.through(points, spacing, longest, [this](const AirStep& at) { step(at); });
}

}  // namespace dryclock::models
