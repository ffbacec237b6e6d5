#include "models/air_outlook.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <numeric>
#include <utility>

#include "models/humid_air.hpp"
#include "models/normal.hpp"
#include "models/pace.hpp"

namespace dryclock::models {
namespace {

constexpr double z90 = 1.2815515655446004;  // an 80 % band reaches so many standard deviations to each side
constexpr double outside = 0.2;
constexpr std::size_t foretells_every = 3;  // h
constexpr double vapour_goes_along = 0.5;   // correlation of the errors
const double alone = std::sqrt(1.0 - vapour_goes_along * vapour_goes_along);
// Widenings to begin with: what the training series came to (models/README.md).
constexpr double temperature_wider = 1.4, vapour_wider = 1.4, pace_wider = 1.1;

template <std::size_t... i>
std::array<Widening, sizeof...(i)> all_of(double first, std::index_sequence<i...>) {
  return {((void)i, Widening{first})...};
}
auto first_widenings(double first) {
  return all_of(first, std::make_index_sequence<judged_leads.size()>{});
}

double factor_at(const auto& widenings, double lead) {
  const auto after =
      std::ranges::lower_bound(judged_leads, lead, {}, [](std::size_t h) { return static_cast<double>(h); });
  if (after == judged_leads.begin()) return widenings.front().factor();
  if (after == judged_leads.end()) return widenings.back().factor();
  const auto i = static_cast<std::size_t>(after - judged_leads.begin());
  const auto from = static_cast<double>(judged_leads[i - 1]), to = static_cast<double>(judged_leads[i]);
  return std::lerp(widenings[i - 1].factor(), widenings[i].factor(), (lead - from) / (to - from));
}

// The pace summed per K and per Pa of an hour's air, and the pace. f(T) (p_sat - e) 2/p_sat(21 C).
struct PaceSlopes {
  double pace = 0.0, by_temperature = 0.0, by_vapour = 0.0;
};
double pace_per_pascal(Celsius air) {
  return permeability_ratio(air, common_activation) /
         ((1.0 - reference_activity) * saturation_pressure(reference_temperature).value());
}
PaceSlopes pace_slopes(double celsius, double vapour) {
  const Celsius air{celsius};
  const double most = saturation_pressure(air).value();
  const double room = std::max(0.0, most - std::max(0.0, vapour));
  const double f = pace_per_pascal(air);
  const double warms = common_activation / molar_gas_constant / (air.kelvin() * air.kelvin());
  return {f * room, f * (warms * room + most * saturation_slope(air)), -f};
}

// Of what grows by so much with each: both errors are correlated.
double spread_of(double by_temperature, double temperature, double by_vapour, double vapour) {
  const double warmer = by_temperature * temperature, damper = by_vapour * vapour;
  return std::sqrt(warmer * warmer + damper * damper + 2.0 * vapour_goes_along * warmer * damper);
}

double at(const std::vector<double>& hours, double lead) {
  const double within = std::clamp(lead, 0.0, static_cast<double>(hours.size() - 1));
  const auto before = std::min(static_cast<std::size_t>(within), hours.size() - 2);
  return std::lerp(hours[before], hours[before + 1], within - static_cast<double>(before));
}

// Spreads that were not asked for, from those that were; beyond the last they stay.
std::vector<double> filled(std::vector<double> spread) {
  std::size_t known = 0;
  for (std::size_t h = 1; h < spread.size(); ++h) {
    if (spread[h] == 0.0) continue;
    for (std::size_t between = known + 1; between < h; ++between) {
      const double share = static_cast<double>(between - known) / static_cast<double>(h - known);
      spread[between] = std::lerp(spread[known], spread[h], share);
    }
    known = h;
  }
  std::fill(spread.begin() + static_cast<std::ptrdiff_t>(known), spread.end(), spread[known]);
  return spread;
}

// The pace on average where the air is normal about its mean: warmer hours gain more than colder ones lose.
// That both means are kept is what counts, so no place is cut off where it would be damper than saturated:
// real air is not, and its means are these. By five places of temperature (Gauss and Hermite).
double mean_pace(double celsius, double vapour, double temperature_spread, double vapour_spread) {
  constexpr std::array<std::pair<double, double>, 5> hermite{{{-2.8569700138728, 0.0112574113277},
                                                              {-1.3556261799743, 0.2220759220056},
                                                              {0.0, 0.5333333333333},
                                                              {1.3556261799743, 0.2220759220056},
                                                              {2.8569700138728, 0.0112574113277}}};
  double sum = 0.0;
  for (const auto& [z, weight] : hermite) {
    const Celsius air{celsius + z * temperature_spread};
    const double room = saturation_pressure(air).value() - vapour - vapour_goes_along * z * vapour_spread;
    sum += weight * room * pace_per_pascal(air);
  }
  return std::max(0.0, sum);
}

}  // namespace

// The logarithm steps up by 0.8 where a value lies outside and down by 0.2 where it does not, times a rate
// that falls to that of a memory of 120 judgements.
void Widening::judge(double missed, double spread) {
  constexpr double quickness = 3.0, first_counts = 30.0, lasts = 120.0;
  const bool is_outside = std::abs(missed) > z90 * factor_ * spread;
  judged_ = std::min(judged_ + 1.0, lasts);
  factor_ *= std::exp(quickness / (first_counts + judged_) * ((is_outside ? 1.0 : 0.0) - outside));
}

PaceForecast pace_forecast(const AirForecast& air) {
  const std::vector<double> temperature = filled(air.temperature.spread), vapour = filled(air.vapour.spread);
  PaceForecast out;
  out.sum.assign(air.temperature.mean.size(), 0.0);
  out.sum_spread = out.sum;
  double by_temperature = 0.0, by_vapour = 0.0;
  for (std::size_t h = 1; h < out.sum.size(); ++h) {
    const PaceSlopes slopes = pace_slopes(air.temperature.mean[h], air.vapour.mean[h]);
    out.sum[h] =
        out.sum[h - 1] + mean_pace(air.temperature.mean[h], air.vapour.mean[h], temperature[h], vapour[h]);
    by_temperature += slopes.by_temperature;
    by_vapour += slopes.by_vapour;
    const auto hours = static_cast<double>(h);
    out.sum_spread[h] = spread_of(by_temperature / hours, air.temperature.sum_spread[h], by_vapour / hours,
                                  air.vapour.sum_spread[h]);
  }
  return out;
}

AirThen air_then(const AirForecast& forecast, double lead) {
  const Celsius air{at(forecast.temperature.mean, lead)};
  const double saturated = saturation_pressure(air).value();
  const Pascal vapour{std::clamp(at(forecast.vapour.mean, lead), 0.0, saturated)};
  const double temperature = at(forecast.temperature.spread, lead);
  const double pressure = at(forecast.vapour.spread, lead);
  const double humidity = vapour.value() / saturated;
  const Celsius dew = dew_point(vapour);
  const PaceSlopes slopes = pace_slopes(air.value(), vapour.value());
  const double warms_dew = vapour.value() > 0.0 ? 1.0 / (vapour.value() * saturation_slope(dew)) : 0.0;
  return {{air.value(), temperature},
          {humidity, spread_of(-humidity * saturation_slope(air), temperature, 1.0 / saturated, pressure)},
          {air.value() - dew.value(), spread_of(1.0, temperature, -warms_dew, pressure)},
          {slopes.pace, spread_of(slopes.by_temperature, temperature, slopes.by_vapour, pressure)}};
}

AirOutlook::AirOutlook(ColdStart start)
    : memory_({start.temperature / temperature_wider, start.vapour / vapour_wider}),
      before_(memory_),
      widenings_{first_widenings(temperature_wider), first_widenings(vapour_wider),
                 first_widenings(pace_wider)} {}

void AirOutlook::pass(std::size_t hours) {
  if (!started() || hours == 0) return;
  memory_.pass(static_cast<double>(hours - 1));
  before_ = memory_;
  memory_.pass(1.0);
  hour_ += hours;
  whole_since_ = hour_;
}

void AirOutlook::see(const AirMean& air) {
  before_ = memory_;
  if (started()) ++hour_;
  memory_.see(air);
  pace_sum_ += pace_slopes(air.temperature, air.vapour).pace;
  judge(air);
  if (hour_ % foretells_every == 0) foretell();
}

void AirOutlook::foretell() {
  static const std::vector<std::size_t> at(judged_leads.begin(), judged_leads.end());
  const AirForecast air = memory_.forecast(judged_leads.back(), at);
  const PaceForecast pace = pace_forecast(air);
  Foretold foretold{.at = hour_, .pace_sum = pace_sum_};
  for (std::size_t i = 0; i < judged_leads.size(); ++i) {
    const std::size_t h = judged_leads[i];
    foretold.told[0][i] = {air.temperature.mean[h], air.temperature.spread[h]};
    foretold.told[1][i] = {air.vapour.mean[h], air.vapour.spread[h]};
    foretold.told[2][i] = {pace.sum[h], pace.sum_spread[h]};
  }
  foretold_.push_back(foretold);
}

void AirOutlook::judge(const AirMean& air) {
  while (!foretold_.empty() && hour_ - foretold_.front().at > judged_leads.back()) {
    foretold_.pop_front();
  }
  for (const Foretold& then : foretold_) {
    for (std::size_t i = 0; i < judged_leads.size(); ++i) {
      if (hour_ - then.at != judged_leads[i]) continue;
      const auto judge = [&](std::size_t value, double came) {
        widenings_[value][i].judge(came - then.told[value][i].mean, then.told[value][i].spread);
      };
      judge(0, air.temperature);
      judge(1, air.vapour);
      if (then.at >= whole_since_) judge(2, pace_sum_ - then.pace_sum);
    }
  }
}

AirForecast AirOutlook::widened(const AirMemory& memory, std::size_t hours) const {
  std::vector<std::size_t> every(std::min(hours, longest_forecast) + 1);
  std::iota(every.begin(), every.end(), std::size_t{0});
  AirForecast out = memory.forecast(hours, every);
  for (const std::size_t h : every) {
    const auto lead = static_cast<double>(h);
    out.temperature.spread[h] *= factor_at(widenings_[0], lead);
    out.vapour.spread[h] *= factor_at(widenings_[1], lead);
    out.temperature.sum_spread[h] *= factor_at(widenings_[2], lead);
    out.vapour.sum_spread[h] *= factor_at(widenings_[2], lead);
  }
  return out;
}

AirForecast AirOutlook::forecast(std::size_t hours) const {
  return widened(memory_, hours);
}

AirForecast AirOutlook::glance(const AirMean& air, double later, std::size_t hours) const {
  AirMemory memory = before_;
  memory.pass(later);
  memory.see(air);
  return widened(memory, hours);
}

namespace {

constexpr std::size_t course_count = 11;
constexpr std::size_t lattice_step = 3;  // Korobov's generator: the two directions are spread evenly
constexpr std::size_t halfway = 48;      // h, where the direction in which pace grows is taken

// Standard deviations of both errors in a course: of correlated normal values.
struct Deviates {
  double temperature = 0.0, vapour = 0.0;
};

// The direction in which the pace grows, in independent values.
struct Direction {
  double along = 1.0, across = 0.0;
};

Direction pace_grows(const AirForecast& forecast) {
  const std::size_t h = std::min(halfway, forecast.temperature.mean.size() - 1);
  double by_temperature = 0.0, by_vapour = 0.0;
  for (std::size_t i = 1; i <= h; ++i) {
    const PaceSlopes slopes = pace_slopes(forecast.temperature.mean[i], forecast.vapour.mean[i]);
    by_temperature += slopes.by_temperature;
    by_vapour += slopes.by_vapour;
  }
  const double warmer = by_temperature * forecast.temperature.sum_spread[h];
  const double damper = by_vapour * forecast.vapour.sum_spread[h];
  const double first = warmer + vapour_goes_along * damper, second = alone * damper;
  const double length = std::hypot(first, second);
  return length > 0.0 ? Direction{first / length, second / length} : Direction{};
}

Deviates deviates(std::size_t course, const Direction& grows) {
  const auto middle = [](std::size_t i) {
    return normal_quantile((static_cast<double>(i) + 0.5) / static_cast<double>(course_count));
  };
  const double along = middle(course);
  const std::size_t centre = course_count / 2;
  const double across = middle((lattice_step * (course + course_count - centre) + centre) % course_count);
  const double first = along * grows.along - across * grows.across;
  const double second = along * grows.across + across * grows.along;
  return {first, vapour_goes_along * first + alone * second};
}

// What lasts of an error at each hour: by how much the sum's spread grows. Now is known.
std::vector<double> lasting(const ValueForecast& value) {
  std::vector<double> out(value.mean.size(), 0.0);
  for (std::size_t h = 1; h < out.size(); ++h) {
    out[h] = std::max(0.0, value.sum_spread[h] - value.sum_spread[h - 1]);
  }
  return out;
}

// What comes and goes of an error.
std::vector<double> passing(const ValueForecast& value, const std::vector<double>& lasting) {
  std::vector<double> out(lasting.size(), 0.0);
  for (std::size_t h = 1; h < out.size(); ++h) {
    out[h] = std::sqrt(std::max(0.0, value.spread[h] * value.spread[h] - lasting[h] * lasting[h]));
  }
  return out;
}

}  // namespace

std::vector<WeightedCourse> courses(const AirForecast& forecast, double from, Seconds step,
                                    std::size_t entries) {
  const Direction grows = pace_grows(forecast);
  const std::vector<double> temperature = lasting(forecast.temperature), vapour = lasting(forecast.vapour);
  const std::vector<double> quick_temperature = passing(forecast.temperature, temperature);
  const std::vector<double> quick_vapour = passing(forecast.vapour, vapour);
  const std::size_t hours = temperature.size();
  std::vector<WeightedCourse> out;
  for (std::size_t c = 0; c < course_count; ++c) {
    const Deviates off = deviates((c + course_count / 2) % course_count, grows);
    WeightedCourse course{1.0 / static_cast<double>(course_count), {}};
    std::vector<double> celsius(hours), pascal(hours);
    for (std::size_t h = 0; h < hours; ++h) {
      celsius[h] = forecast.temperature.mean[h] + off.temperature * temperature[h];
      const double pressure = forecast.vapour.mean[h] + off.vapour * vapour[h];
      const Celsius then{celsius[h]};
      pascal[h] =
          saturation_pressure(then).value() -
          mean_pace(celsius[h], pressure, quick_temperature[h], quick_vapour[h]) / pace_per_pascal(then);
    }
    for (std::size_t i = 0; i < entries; ++i) {
      const double lead = from + static_cast<double>(i) * step.value() / 3600.0;
      const Celsius air{at(celsius, lead)};
      Surroundings then;
      then.air = air;
      then.humidity = Humidity{std::clamp(at(pascal, lead) / saturation_pressure(air).value(), 0.0, 1.0)};
      course.air.push_back(then);
    }
    out.push_back(std::move(course));
  }
  return out;
}

}  // namespace dryclock::models
