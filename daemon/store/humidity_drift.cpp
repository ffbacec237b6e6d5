#include "store/humidity_drift.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <map>

#include "domain/quantities.hpp"

namespace dryclock::store {
namespace {

constexpr std::chrono::hours day_long{24};

struct Mean {
  double sum = 0.0;
  int count = 0;
};
using Hours = std::map<Time, Mean>;

Result<Hours> hours_of(const Reader& reader, const SensorMapping& mapping, Time from, Time to) {
  const auto readings = reader.readings(mapping.sensor, mapping.quantity, from, to);
  if (!readings) {
    return readings.error();
  }
  Hours hours;
  for (const auto& [seq, reading, verdict] : *readings) {
    if (verdict == Verdict::ok && reading.bay == mapping.bay) {
      auto& hour = hours[std::chrono::floor<std::chrono::hours>(reading.at)];
      hour.sum += converted(reading.raw, mapping);
      ++hour.count;
    }
  }
  return hours;
}

// Over the hours of a day in which both were believed, so that a gap of one does not count.
Result<std::optional<double>> mean_difference(const Reader& reader, const SensorPair& pair, Time from,
                                              Time to) {
  const auto one = hours_of(reader, pair.one, from, to);
  const auto other = hours_of(reader, pair.other, from, to);
  if (!one || !other) {
    return !one ? one.error() : other.error();
  }
  double sum = 0.0;
  std::size_t hours = 0;
  for (const auto& [hour, mean] : *one) {
    if (const auto beside = other->find(hour); beside != other->end()) {
      sum += mean.sum / mean.count - beside->second.sum / beside->second.count;
      ++hours;
    }
  }
  return hours < least_hours ? std::optional<double>{} : sum / static_cast<double>(hours);
}

struct Day {
  double before_now = 0.0;  // days
  double difference = 0.0;  // %RH
};

// Least squares over the days of the last `weeks`.
std::optional<Drift> line_over(const std::vector<Day>& all, int weeks) {
  const double length = 7.0 * weeks;
  std::vector<Day> days;
  std::ranges::copy_if(all, std::back_inserter(days),
                       [&](const Day& day) { return day.before_now < length; });
  const auto n = static_cast<double>(days.size());
  // They come newest first.
  if (n < 0.5 * length || days.back().before_now < 0.75 * length || days.front().before_now > 0.25 * length) {
    return std::nullopt;
  }
  double mean_t = 0.0, mean = 0.0;
  for (const auto& day : days) {
    mean_t += day.before_now / n;
    mean += day.difference / n;
  }
  double sum_tt = 0.0, sum_td = 0.0, sum_dd = 0.0;
  for (const auto& day : days) {
    const double t = day.before_now - mean_t, d = day.difference - mean;
    sum_tt += t * t;
    sum_td += t * d;
    sum_dd += d * d;
  }
  const double slope = sum_td / sum_tt;
  const double error = std::sqrt(std::max(0.0, sum_dd - slope * sum_td) / (n - 2.0) / sum_tt);
  const bool is_some = std::abs(slope) > 3.0 * error;
  const auto at = [&](double before) { return is_some ? mean + slope * (before - mean_t) : mean; };
  return Drift{at(days.back().before_now), at(days.front().before_now), weeks};
}

}  // namespace

std::vector<SensorPair> humidity_pairs(const std::vector<SensorMapping>& mappings) {
  std::vector<SensorPair> pairs;
  for (std::size_t i = 0; i < mappings.size(); ++i) {
    for (std::size_t k = i + 1; k < mappings.size(); ++k) {
      if (mappings[i].bay == mappings[k].bay && mappings[i].quantity == Quantity::relative_humidity &&
          mappings[k].quantity == Quantity::relative_humidity) {
        pairs.push_back({mappings[i], mappings[k]});
      }
    }
  }
  return pairs;
}

Result<std::optional<Drift>> drift_of(const Reader& reader, const SensorPair& pair, Time now) {
  std::vector<Day> days;
  for (int before = 0; before < 7 * drift_weeks.front(); ++before) {
    const Time end = now - before * day_long;
    const auto mean = mean_difference(reader, pair, end - day_long, end);
    if (!mean) {
      return mean.error();
    }
    if (*mean) {
      days.push_back({static_cast<double>(before), **mean});
    }
  }
  const auto change = [](const Drift& drift) { return std::abs(drift.now_pct - drift.then_pct); };
  std::optional<Drift> most;
  for (const int weeks : drift_weeks) {
    const auto line = line_over(days, weeks);
    if (line && (!most || change(*line) > change(*most))) {
      most = line;
    }
  }
  return most;
}

}  // namespace dryclock::store
