// The film over liquid, under all members at once: what it takes up from the liquid and passes on to the air.
// Whoever keeps the liquid hands it in [g/m2] and finds it less by what the film has drunk.
#pragma once

#include "models/film_modes.hpp"
#include "models/lane_loops.hpp"
#include "models/lanes.hpp"
#include "models/thermal_step.hpp"

namespace dryclock::models {

class WetFilm {
 public:
  WetFilm() = default;
  // Laid on liquid of this activity, until then in equilibrium with the air (a_out).
  WetFilm(const FilmModes& modes, double outside, const Lanes& activity, Lanes& liquid);

  // The air jumped between two steps: the steady profile jumps with it, what the film holds does not.
  void move_outside(const FilmModes& modes, const Lanes& outer, Lanes& liquid);
  // The liquid's activity steps up: the steady profile moves, the film takes up what it lacks. It never steps
  // down, so that no liquid is drawn in through the film.
  void raise(const FilmModes& modes, const Lanes& activity, Lanes& liquid);
  void advance(const FilmModes& modes, const ThermalStep& step, Lanes& liquid);
  void rest(const ThermalStep& step) { outer_ = step.outer_after; }  // nothing is wet any more

  [[nodiscard]] const Lanes& activity() const { return activity_; }  // of the water in the liquid
  [[nodiscard]] const Lanes& outer() const { return outer_; }  // a_eff after the last step, film_modes.hpp
  [[nodiscard]] const WetField& amplitudes() const { return wet_; }  // of the modes

 private:
  Lanes activity_{};
  Lanes outer_{};
  WetField wet_{};
};

}  // namespace dryclock::models
