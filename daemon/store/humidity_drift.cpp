#include "store/humidity_drift.hpp"

#include <map>

namespace dryclock::store {
namespace {

constexpr std::chrono::hours week{7 * 24};

struct Mean {
  double sum = 0.0;
  int count = 0;
};
using Hours = std::map<Time, Mean>;

double percent(double raw, const SensorMapping& mapping) {
  const double value = mapping.slope * raw + mapping.offset;
  return mapping.unit == Unit::fraction ? 100.0 * value : value;
}

Result<Hours> hours_of(const Reader& reader, const SensorMapping& mapping, Time from, Time to) {
  const auto readings = reader.readings(mapping.sensor, mapping.quantity, from, to);
  if (!readings) {
    return readings.error();
  }
  Hours hours;
  for (const auto& [seq, reading, verdict] : *readings) {
    if (verdict == Verdict::ok && reading.bay == mapping.bay) {
      auto& hour = hours[std::chrono::floor<std::chrono::hours>(reading.at)];
      hour.sum += percent(reading.raw, mapping);
      ++hour.count;
    }
  }
  return hours;
}

// Over the hours in which both were believed, so that a gap of one does not count.
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
  const auto present = mean_difference(reader, pair, now - week, now);
  if (!present || !*present) {
    return present ? Result<std::optional<Drift>>{std::optional<Drift>{}} : present.error();
  }
  const auto past = mean_difference(reader, pair, now - drift_span - week, now - drift_span);
  if (!past || !*past) {
    return past ? Result<std::optional<Drift>>{std::optional<Drift>{}} : past.error();
  }
  return std::optional{Drift{**past, **present}};
}

}  // namespace dryclock::store
