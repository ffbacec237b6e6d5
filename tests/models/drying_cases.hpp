// Film stacks and runs that several drying tests share.
#pragma once

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "models/film_modes.hpp"
#include "models/film_stack.hpp"
#include "models/thermal_step.hpp"
#include "models/zone.hpp"
#include "usual_film.hpp"

namespace drying_cases {

using namespace dryclock::models;

inline constexpr MetresPerSecond still_bay{2.3e-3};
inline constexpr double minute = 60.0, hour = 3600.0;  // s
inline constexpr double infinite = std::numeric_limits<double>::infinity();

// Liquid that stays whole to its end: dry is w = 0.
inline const WaterLayer whole{GramsPerSquareMetre{0.0}, GramsPerSquareMetre{0.05}};
inline const WaterLayer patchy{GramsPerSquareMetre{1.5}, GramsPerSquareMetre{0.05}};

// Equal to within this share of the value (doctest's own epsilon is loose near zero).
inline doctest::Approx about(double value, double relative) {
  return doctest::Approx(value).epsilon(relative).scale(0.0);
}

// The production path for one zone whose members are all alike, at panel temperatures that are given.
class ZoneRun {
 public:
  ZoneRun(const FilmStack& stack, const WaterLayer& layer, double water, const Surroundings& at_lay,
          MetresPerSecond air_layer = still_bay)
      : modes_(film_modes(stack, air_layer)),
        air_layer_(air_layer),
        limit_(layer.dry_limit),
        factor_(all(1.0)),
        zone_(modes_, layer, all(water), 0.0, sense(at_lay).activity, 0.0) {}

  void advance(const Surroundings& from, const Surroundings& to, double seconds, int pieces = 1) {
    for (int i = 0; i < pieces; ++i) {
      const auto at = [&](double share) { return sense(between(from, to, (i + share) / pieces)); };
      prepare(step_, modes_, factor_, at(0.0), at(0.5), at(1.0), seconds / pieces);
      const double before = std::log(water());
      const bool was_dry = dry();
      zone_.advance(modes_, step_, 0.0, 0.0, 0.0);
      const double last = (before - std::log(limit_)) / (before - std::log(water()));
      if (!was_dry && dry()) dry_after_ = elapsed_ + std::min(1.0, last) * seconds / pieces;
      elapsed_ += seconds / pieces;
    }
  }

  [[nodiscard]] double water() const { return zone_.water()[0]; }
  [[nodiscard]] double excess() const { return zone_.excess(modes_)[0]; }
  [[nodiscard]] bool dry() const { return zone_.dry()[0]; }
  [[nodiscard]] double dry_after() const {
    return dry_after_;
  }  // s, the water taken to fall exponentially within a step
  [[nodiscard]] double standard_hours() const { return zone_.standard_hours(modes_, factor_, 0.0)[0]; }
  [[nodiscard]] const FilmModes& modes() const { return modes_; }

  static Lanes all(double value) {
    Lanes lanes;
    lanes.fill(value);
    return lanes;
  }

 private:
  [[nodiscard]] Instant sense(const Surroundings& s) const {
    return instant(modes_, std::isnan(s.panel_c) ? s.air : Celsius{s.panel_c}, s.air, s.humidity, air_layer_);
  }
  FilmModes modes_;
  MetresPerSecond air_layer_;
  double limit_;
  Lanes factor_;
  Zone zone_;
  ThermalStep step_;
  double elapsed_ = 0.0;
  double dry_after_ = 0.0;
};

}  // namespace drying_cases
