// What coupons have measured: what films resist, with the piece that it counts for; how water lies and
// films bond.
#pragma once

#include <string>
#include <vector>

#include "domain/sensor_view.hpp"
#include "domain/setup.hpp"
#include "models/bond_coupon.hpp"
#include "models/coupon_tail.hpp"

namespace dryclock::engine {

// What a lot differs by where a coupon test has measured it, ln R; SOURCES of models/: 0.12 after a test.
inline constexpr double least_measured_spread = 0.12;

class FilmMeasures {
 public:
  // From the events that concern the shop and stand.
  void rebuild(const std::vector<Event>& standing);
  [[nodiscard]] const std::vector<MeasuredFilm>& all() const { return films_; }
  // Of each coupon that says how water lies or films bond: how likely that is in models::shop_worlds().
  [[nodiscard]] const std::vector<std::vector<double>>& worlds() const { return worlds_; }

  // The stack that a piece of that lay was laid with: scaled to what counts_for() names, else the
  // catalogue's. The layers keep their shares of the resistance.
  [[nodiscard]] models::FilmStack stack_of(const FilmEntry& film, const std::string& lot, Time laid) const;
  // The event of what counts_for() names; 0: the catalogue's figure counts.
  [[nodiscard]] Seq event_for(const std::string& film, const std::string& lot, Time laid) const;

 private:
  std::vector<MeasuredFilm> films_;          // in order of time
  std::vector<std::vector<double>> worlds_;  // in the order of the rows
};

// Of measurements in order of time, the newest from before `laid` that counts for that film and lot; one of
// the same lot goes before one of any lot. Null: the catalogue's figure counts.
[[nodiscard]] const MeasuredFilm* counts_for(const std::vector<MeasuredFilm>& measured,
                                             const std::string& film, const std::string& lot, Time laid);

// What the shop's belief has a film under: what was measured is another film to it than the catalogue's.
[[nodiscard]] std::string belief_key(const std::string& film, Seq measurement);

// The catalogue's stack with what was measured: its resistance and how well that is known.
[[nodiscard]] models::FilmStack scaled(models::FilmStack stack, const FilmMeasured& measured);

// In the models' terms.
[[nodiscard]] std::vector<models::TailPoint> tail_of(const FilmMeasured& measured);
[[nodiscard]] std::vector<models::PulledStrip> strips_of(const BondMeasured& measured);

// Sum of thickness / permeability at 21 C. [m2 s Pa/kg]
[[nodiscard]] double resistance_of(const models::FilmStack& stack);

}  // namespace dryclock::engine
