#include "models/wet_film.hpp"

#include <algorithm>

namespace dryclock::models {

WetFilm::WetFilm(const FilmModes& modes, double outside, const Lanes& activity, Lanes& liquid)
    : activity_(activity) {
  outer_.fill(outside);
  for (std::size_t m = 0; m < members; ++m) {
    const double step = activity_[m] - outside;
    liquid[m] -= step * modes.inner_inner_rest;
    for (std::size_t k = 0; k < wet_modes; ++k) {
      wet_[k][m] = -step * modes.inner[k];
    }
  }
}

void WetFilm::move_outside(const FilmModes& modes, const Lanes& outer, Lanes& liquid) {
  for (std::size_t m = 0; m < members; ++m) {
    const double jump = outer[m] - outer_[m];
    for (std::size_t k = 0; k < wet_modes; ++k) {
      wet_[k][m] -= jump * modes.outer[k];
    }
    liquid[m] -= jump * modes.inner_outer_rest;
  }
  outer_ = outer;
}

void WetFilm::raise(const FilmModes& modes, const Lanes& activity, Lanes& liquid) {
  for (std::size_t m = 0; m < members; ++m) {
    const double raised = std::max(activity_[m], activity[m]);
    const double step = raised - activity_[m];
    activity_[m] = raised;
    liquid[m] -= step * modes.inner_inner_rest;
    for (std::size_t k = 0; k < wet_modes; ++k) {
      wet_[k][m] -= step * modes.inner[k];
    }
  }
}

void WetFilm::advance(const FilmModes& modes, const ThermalStep& step, Lanes& liquid) {
  outer_ = step.outer_after;
  const WetField before = wet_;
  step_wet(modes, step, activity_, before, wet_, liquid);
}

}  // namespace dryclock::models
