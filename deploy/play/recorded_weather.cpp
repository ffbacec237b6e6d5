#include "play/recorded_weather.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <optional>
#include <sstream>
#include <stdexcept>

#include "base/number_text.hpp"

namespace dryclock::play {
namespace {

struct Hour {
  double temperature_f = 0.0, humidity_pct = 0.0;
};

std::vector<std::string> cells_of(const std::string& line) {
  std::vector<std::string> cells;
  std::istringstream in{line};
  for (std::string cell; std::getline(in, cell, ',');) {
    cells.push_back(cell);
  }
  return cells;
}

std::size_t column(const std::vector<std::string>& header, const std::string& name) {
  const auto found = std::ranges::find(header, name);
  if (found == header.end()) {
    throw std::runtime_error("the weather file has no column " + name);
  }
  return static_cast<std::size_t>(found - header.begin());
}

// Absent for "NA".
std::optional<double> number(const std::string& cell) {
  return number_of<double>(cell);
}

std::map<Time, Hour> read_station(std::istream& csv, const std::string& station) {
  std::string line;
  std::getline(csv, line);
  const auto header = cells_of(line);
  const auto origin = column(header, "origin"), temperature = column(header, "temp"),
             humidity = column(header, "humid"), time = column(header, "time_hour");
  std::map<Time, Hour> hours;
  while (std::getline(csv, line)) {
    const auto cells = cells_of(line);
    if (cells.size() != header.size() || cells[origin] != station) {
      continue;
    }
    const auto at = parse_rfc3339(cells[time]);
    const auto temperature_f = number(cells[temperature]), humidity_pct = number(cells[humidity]);
    if (at && temperature_f && humidity_pct) {
      hours[*at] = {*temperature_f, *humidity_pct};
    }
  }
  return hours;
}

Hour between(const std::map<Time, Hour>& hours, Time at) {
  const auto after = hours.lower_bound(at);
  if (after == hours.end() || (after == hours.begin() && after->first > at)) {
    throw std::runtime_error("the weather file does not cover " + to_rfc3339(at));
  }
  if (after->first == at) {
    return after->second;
  }
  const auto before = std::prev(after);
  const double share = seconds_between(before->first, at) / seconds_between(before->first, after->first);
  return {std::lerp(before->second.temperature_f, after->second.temperature_f, share),
          std::lerp(before->second.humidity_pct, after->second.humidity_pct, share)};
}

}  // namespace

Messages recorded_weather(std::istream& csv, const RecordedOptions& options) {
  const auto hours = read_station(csv, options.station);
  Messages messages;
  for (Time at = options.from + options.every; at <= options.from + options.length; at += options.every) {
    const Hour air = between(hours, at);
    messages.push_back({at, options.topic, sensor_payload(air.temperature_f, air.humidity_pct, at)});
  }
  return messages;
}

}  // namespace dryclock::play
