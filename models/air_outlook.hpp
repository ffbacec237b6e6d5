// The bay's air over the next days with bands that are kept: what AirMemory foretells, with its spread
// widened by how often what it had foretold came to lie outside (after Gibbs and Candes 2021, adaptive
// conformal inference), and courses of air for pieces to go through. Nothing here comes from outside, and a
// forecast never feeds back into a state but by that widening.
#pragma once

#include <array>
#include <cstddef>
#include <deque>
#include <vector>

#include "models/air_memory.hpp"
#include "models/catalogue.hpp"
#include "models/units.hpp"

namespace dryclock::models {

// By how much a band has to be wider than thought, for a fifth to fall outside of the 80 % that are told.
class Widening {
 public:
  explicit Widening(double first) : factor_(first) {}
  // What came was missed by so much where the unwidened standard deviation was `spread`.
  void judge(double missed, double spread);
  [[nodiscard]] double factor() const { return factor_; }

 private:
  double factor_;
  double judged_ = 0.0;
};

// h ahead: where forecasts are judged. Between them a widening is linear.
inline constexpr std::array<std::size_t, 6> judged_leads{3, 6, 12, 24, 48, 72};

// The pace summed over hours 1 to h, on average. [standard hours] Warmer hours gain more than colder ones
// lose, so that is more than the pace of the likely air. Its error is to first order in those of temperature
// and vapour, whose correlation is 0.5.
struct PaceForecast {
  std::vector<double> sum, sum_spread;  // the spread where the air's was asked for, else 0
};
[[nodiscard]] PaceForecast pace_forecast(const AirForecast& air);

class AirOutlook {
 public:
  explicit AirOutlook(ColdStart start = {});

  // The air of the next full hour, or so many without.
  void see(const AirMean& air);
  void pass(std::size_t hours);
  [[nodiscard]] bool started() const { return memory_.started(); }

  // From the last hour seen or passed on, for a week at most. Once started.
  [[nodiscard]] AirForecast forecast(std::size_t hours) const;
  // From an hour on that ends `later`, in hours (0 to 1), than the last one that was seen or passed: its air
  // stands for that of the last one, so that news need not wait for a full hour and no thermostat's phase
  // shows. Where nothing was seen before, it is all that is known.
  [[nodiscard]] AirForecast glance(const AirMean& air, double later, std::size_t hours) const;

 private:
  static constexpr std::size_t values = 3;  // temperature, vapour, and the pace summed
  struct Told {
    double mean = 0.0, spread = 0.0;
  };
  struct Foretold {
    std::size_t at = 0;  // h
    double pace_sum = 0.0;
    std::array<std::array<Told, judged_leads.size()>, values> told{};
  };
  using AtLeads = std::array<Widening, judged_leads.size()>;
  [[nodiscard]] AirForecast widened(const AirMemory& memory, std::size_t hours) const;
  void judge(const AirMean& air);
  void foretell();

  AirMemory memory_, before_;  // with and without the last hour
  std::size_t hour_ = 0;       // since the first one
  std::size_t whole_since_ = 0;
  double pace_sum_ = 0.0;  // standard hours that came since the first hour
  std::deque<Foretold> foretold_;
  std::array<AtLeads, values> widenings_;
};

// A value to first order in the errors of temperature and vapour: normal.
struct Likely {
  double mean = 0.0, spread = 0.0;
};
// The air at one moment of a forecast, and what that makes of drying.
struct AirThen {
  Likely temperature;  // C
  Likely humidity;     // 0 to 1 over liquid water; its mean is no less and no more
  Likely dew_margin;   // K, of the air above its dew point
  Likely pace;         // its mean is never below 0
};
// `lead` hours from entry 0, held within the forecast; spreads where the air's were asked for, else 0.
[[nodiscard]] AirThen air_then(const AirForecast& forecast, double lead);

// Air every so often from now on, and how much it counts: of all courses together 1.
struct WeightedCourse {
  double weight = 1.0;
  std::vector<Surroundings> air;
};

// Eleven courses of air, all of one weight, the likely one first. Film dries by the pace summed, so a course
// carries what lasts of an error (the growth of the sum's spread), and what comes and goes within hours by
// what it adds to the pace on average, as drier air: at every moment the courses' sums lie at the middles of
// elevenths of its distribution. The other direction, warm and damp against cold and dry at the same pace,
// goes by a lattice of Korobov's. `from` is the first entry's lead in hours.
[[nodiscard]] std::vector<WeightedCourse> courses(const AirForecast& forecast, double from, Seconds step,
                                                  std::size_t entries);

}  // namespace dryclock::models
