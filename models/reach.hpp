// How much water a zone may have been left with and yet be where a step asks it to be: the milestones in
// closed form of a course.
//
// Wet share, moisture in the film and bond are all means of the wet share over the time that has passed:
//   wet share        the share now
//   excess           the film over a column gives its moisture off after the column has dried, as
//                    g(film time since); the zone's excess is the wet share, looked at through -g'
//   missing bond     a column bonds as phi(clock since its contact); what is missing of the zone's bond is
//                    the wet share, looked at through phi'
// so each is a weighted mean of shares at earlier moments, and asks that it be at most so much. The more
// water at lay, the larger they are: there is a most.
#pragma once

#include <array>
#include <cstddef>
#include <span>

#include "models/course_trace.hpp"
#include "models/film_modes.hpp"
#include "models/water_spread.hpp"

namespace dryclock::models {

inline constexpr std::size_t looks_back = most_moments - 1;
// What each place counts in a mean over them: Gauss and Legendre's weights between 0 and 1.
inline constexpr std::array<double, looks_back> look_weights{
    0.05061426814518809, 0.11119051722668723, 0.1568533229389437,  0.181341891689181,
    0.181341891689181,   0.1568533229389437,  0.11119051722668723, 0.05061426814518809};

// How long after its liquid has gone a column's film has still so much of its moisture: where Gauss and
// Legendre take it. [s of film time] Moisture that no mode holds leaves at once.
[[nodiscard]] std::array<double, looks_back> excess_delays(const FilmModes& modes);
// How the water lies in a zone, one of the ways that are thought possible.
struct WaterWorld {
  const WaterSpread* spread = nullptr;
  double break_up = 0.5;  // w_c, g/m2
  BondLaw law = BondLaw::williams_landel_ferry;
  double bond_slowness = 1.0;  // of the bond clock: a bond of 0.9 takes so many times 24 h at 20 C
};

// The free margin of an edge zone. [m]
struct Margin {
  double width = 0.0;      // 0: none
  double openness = 0.1;   // of an ideal open gap, from lay on
  double opened = 1.0;     // the same from where it was lifted or trimmed open
  double opened_at = 0.0;  // FilmCourse's front_squared then [m2]; +infinity: never
  // Share of the width that the front has left. [0..1]
  [[nodiscard]] double left(double front_squared) const;
  bool operator==(const Margin&) const = default;
};

// What a step asks of a zone. [0..1]
struct ZoneAsks {
  double wet_share = 1.0;  // at most
  double excess = 1.0;     // at most, of what the film holds over liquid
  double bond = 0.0;       // at least, mean over the zone
};

// Where a trace was when it was so long ago, as the film or the bond counts time: Gauss and Legendre's places
// after lay, and the share that lies before it.
struct LooksBack {
  std::array<CourseTrace::Place, looks_back> places;
  double before_lay = 0.0;
};
[[nodiscard]] LooksBack excess_looks(const CourseTrace& trace, std::size_t now, std::size_t lane,
                                     const std::array<double, looks_back>& film_delays);
[[nodiscard]] LooksBack bond_looks(const CourseTrace& trace, std::size_t now, const WaterWorld& world);
// What the film had drunk under one lane, and what its margin had left then. The last is before lay.
using Moments = std::array<Moment, most_moments>;
[[nodiscard]] Moments moments(const CourseTrace& trace, const LooksBack& looks, std::size_t lane,
                              const WaterWorld& world, const Margin& margin);
[[nodiscard]] Moment moment_now(const CourseTrace& trace, std::size_t now, std::size_t lane,
                                const WaterWorld& world, const Margin& margin);

// The most water at lay with which the mean of the wet share over these moments is at most `limit`, as ln of
// g/m2. -infinity: with none; +infinity: with any. `guess`: an answer nearby, or NaN.
[[nodiscard]] double most_water(std::span<const Moment> moments, const WaterWorld& world, double limit,
                                double guess);
// The same with which the zone is at all that is asked at the trace's point `now`.
[[nodiscard]] double most_water(const CourseTrace& trace, std::size_t now, std::size_t lane,
                                const std::array<double, looks_back>& film_delays, const WaterWorld& world,
                                const Margin& margin, const ZoneAsks& asks);

}  // namespace dryclock::models
