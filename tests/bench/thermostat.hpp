// By how much a thermostat's cycle moves what is told: a room held at 20 C that swings by 0.3 K in 25
// minutes, seen every minute, foretold every ten minutes from the first hour on for two days.
#pragma once

#include <algorithm>
#include <cmath>
#include <functional>
#include <limits>
#include <vector>

#include "models/air_outlook.hpp"
#include "models/humid_air.hpp"
#include "models/pace.hpp"

namespace dryclock::bench {

// Triangles between 19.7 and 20.3 C at 900 Pa.
inline models::Surroundings thermostat_air(int minute) {
  constexpr double cycle = 25.0, swing = 0.3, held = 20.0, vapour = 900.0;
  const double phase = std::fmod(static_cast<double>(minute), cycle) / cycle;
  models::Surroundings air;
  air.air = models::Celsius{held + swing * (4.0 * std::abs(phase - 0.5) - 1.0)};
  air.humidity = models::Humidity{vapour / models::saturation_pressure(air.air).value()};
  return air;
}

// The mean of the hour that ends with this minute.
inline models::AirMean thermostat_hour(int minute) {
  models::AirMean mean;
  for (int m = minute - 59; m <= minute; ++m) {
    const auto air = thermostat_air(m);
    mean.temperature += air.air.value() / 60.0;
    mean.vapour += models::vapour_pressure(air.air, air.humidity).value() / 60.0;
  }
  return mean;
}

// When air of every five minutes has been worth as much as the baseline film needs for 10 g/m2. [h]
inline double dry_after(const std::vector<models::Surroundings>& air) {
  constexpr double needed = 12.0, step = 1.0 / 12.0;
  double sum = 0.0;
  for (std::size_t i = 0; i < air.size(); ++i) {
    const double pace = models::pace(air[i].air, air[i].air, air[i].humidity);
    if (sum + pace * step >= needed) return static_cast<double>(i) * step + (needed - sum) / pace;
    sum += pace * step;
  }
  return std::numeric_limits<double>::infinity();
}

// The farthest that the hours told move from one ten minutes to the next. [h] A piece is laid anew at each,
// so that nothing but the outlook moves them.
inline double farthest_move(const std::function<double(int)>& dry_after_minute) {
  double before = 0.0, most = 0.0;
  for (int minute = 60; minute <= 48 * 60; minute += 10) {
    const double then = dry_after_minute(minute);
    if (minute > 60) most = std::max(most, std::abs(then - before));
    before = then;
  }
  return most;
}

inline double thermostat_moves() {
  models::AirOutlook outlook;
  int seen = 0;  // full hours
  return farthest_move([&](int minute) {
    for (; (seen + 1) * 60 <= minute; ++seen) {
      outlook.see(thermostat_hour((seen + 1) * 60));
    }
    const auto forecast = outlook.glance(thermostat_hour(minute), (minute - seen * 60) / 60.0, 72);
    // The middle of the last hour is half an hour ago.
    return dry_after(models::courses(forecast, 0.5, models::Seconds{300.0}, 72 * 12 - 6).front().air);
  });
}

}  // namespace dryclock::bench
