// What films have been measured to resist, and which piece that counts for.
#pragma once

#include <string>
#include <vector>

#include "domain/sensor_view.hpp"
#include "domain/setup.hpp"

namespace dryclock::engine {

// What a lot differs by where a coupon test has measured it, ln R; SOURCES of models/: 0.12 after a test.
inline constexpr double least_measured_spread = 0.12;

class FilmMeasures {
 public:
  // From the events that concern the shop and stand.
  void rebuild(const std::vector<Event>& standing);
  [[nodiscard]] const std::vector<MeasuredFilm>& all() const { return films_; }

  // The stack that a piece of that lay was laid with: the newest measurement from before it that counts for
  // its film and lot, else the catalogue's. One of the same lot goes before one of any lot. The layers keep
  // their shares of the resistance.
  [[nodiscard]] models::FilmStack stack_of(const FilmEntry& film, const std::string& lot, Time laid) const;

 private:
  std::vector<MeasuredFilm> films_;  // in order of time
};

// Sum of thickness / permeability at 21 C. [m2 s Pa/kg]
[[nodiscard]] double resistance_of(const models::FilmStack& stack);

}  // namespace dryclock::engine
