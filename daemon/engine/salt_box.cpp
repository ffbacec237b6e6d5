#include "engine/salt_box.hpp"

#include <algorithm>
#include <cmath>

#include "domain/names.hpp"
#include "engine/facts.hpp"

namespace dryclock::engine {
namespace {

// A sensor that sends every second tells no more in a box than one that sends six times a minute.
constexpr Millis least_apart = std::chrono::seconds{10};
constexpr Millis fresh = std::chrono::minutes{15};
// Two points of a straight line: two salts that lie well apart, checked within a month.
constexpr double least_between_pct = 20.0;
constexpr Millis pair_within = std::chrono::hours{31 * 24};

struct Window {
  std::size_t count = 0;
  double mean = 0.0, spread = 0.0, per_hour = 0.0;
};

// Mean, standard deviation and slope of the points after `from`.
template <class Points>
Window window_of(const Points& points, Time from) {
  Window out;
  double sum_t = 0.0, sum = 0.0;
  for (const auto& point : points) {
    if (point.at > from) {
      ++out.count;
      sum += point.value;
      sum_t += seconds_between(from, point.at) / 3600.0;
    }
  }
  if (out.count < 2) {
    return out;
  }
  const auto n = static_cast<double>(out.count);
  out.mean = sum / n;
  double stt = 0.0, stv = 0.0, svv = 0.0;
  for (const auto& point : points) {
    if (point.at > from) {
      const double t = seconds_between(from, point.at) / 3600.0 - sum_t / n;
      const double v = point.value - out.mean;
      stt += t * t;
      stv += t * v;
      svv += v * v;
    }
  }
  out.spread = std::sqrt(svv / (n - 1.0));
  out.per_hour = stt > 0.0 ? stv / stt : 0.0;
  return out;
}

// Since when every point has stayed near what the last ones say.
template <class Points>
Time steady_since(const Points& points, const Window& last) {
  const double near = std::max(0.5, 3.0 * last.spread);
  Time since = points.back().at;
  for (auto point = points.rbegin(); point != points.rend() && std::abs(point->value - last.mean) <= near;
       ++point) {
    since = point->at;
  }
  return since;
}

double rounded(double value, double step) {
  return std::round(value / step) * step;
}

// In place of the present slope and offset, in the sensor's own unit.
void add_correction(SensorChecked& result, const SensorEntry& sensor, Time now) {
  const auto& mapping = *sensor.mapping(Quantity::relative_humidity);
  const double unit = mapping.unit == Unit::fraction ? 0.01 : 1.0;
  double slope = 1.0;
  double offset = result.expected_pct - result.shown_pct;
  const auto other = std::find_if(sensor.checks.rbegin(), sensor.checks.rend(), [&](const CheckDone& done) {
    return done.current && now - done.at <= pair_within &&
           std::abs(done.result.expected_pct - result.expected_pct) >= least_between_pct &&
           std::abs(done.result.shown_pct - result.shown_pct) >= 0.5 * least_between_pct;
  });
  if (other != sensor.checks.rend()) {
    const auto& one = other->result;
    slope = (result.expected_pct - one.expected_pct) / (result.shown_pct - one.shown_pct);
    offset = result.expected_pct - slope * result.shown_pct;
    const bool needed =
        result.verdict != models::SensorVerdict::agrees || one.verdict != models::SensorVerdict::agrees;
    if (!needed) {
      return;
    }
  } else if (result.verdict == models::SensorVerdict::agrees) {
    return;
  }
  result.slope = rounded(slope * mapping.slope, 1e-4);
  result.offset = rounded(slope * mapping.offset + offset * unit, 1e-4);
}

Fact outcome(const SensorChecked& result) {
  static constexpr std::array keys{"checks.agrees", "checks.doubtful", "checks.off"};  // by the verdict
  return {keys[static_cast<std::size_t>(result.verdict)],
          {say::humidity("shown", result.shown_pct), say::humidity("expected", result.expected_pct),
           say::humidity("expanded", result.expected_expanded_pct),
           say::humidity_change("off", result.shown_pct - result.expected_pct)}};
}

}  // namespace

void SaltBox::add(const CheckRun& run, const Reading& reading) {
  auto& box = boxes_[reading.sensor];
  if (box.run != run.event) {
    box = {run.event, {}, {}};
  }
  if (reading.quantity != Quantity::relative_humidity && reading.quantity != Quantity::air_temperature) {
    return;
  }
  auto& points = reading.quantity == Quantity::relative_humidity ? box.humidity : box.temperature;
  if (points.empty() || reading.at >= points.back().at + least_apart) {
    points.push_back({reading.at, reading.value});
  }
}

void SaltBox::follow(const SensorRegistry& registry, Time now) {
  std::erase_if(boxes_, [&](const auto& entry) {
    const auto* sensor = registry.find(entry.first);
    const auto* run = sensor == nullptr ? nullptr : sensor->checking(now);
    return run == nullptr || run->event != entry.second.run;
  });
}

CheckProgress SaltBox::progress(const SensorEntry& sensor, Time now) const {
  const CheckRun& run = *sensor.run;
  CheckProgress out;
  out.salt = run.salt;
  out.since = run.since;
  out.until = run.until;
  const auto found = boxes_.find(sensor.name);
  if (found == boxes_.end() || found->second.run != run.event || found->second.humidity.empty() ||
      found->second.temperature.empty()) {
    out.what = {"checks.nothing-yet"};
    return out;
  }
  const auto& box = found->second;
  out.shown_pct = box.humidity.back().value;
  out.temperature_c = box.temperature.back().value;
  const Time newest = std::min(box.humidity.back().at, box.temperature.back().at);
  if (now - newest > fresh) {
    out.what = {"checks.nothing-lately"};
    return out;
  }
  const Time from = newest - steady_window;
  const Window humidity = window_of(box.humidity, from);
  const Window temperature = window_of(box.temperature, from);
  if (humidity.count >= least_readings) {
    out.rise_pct_per_hour = humidity.per_hour;
  }
  if (const Millis lain = now - run.since; lain < least_in_box) {
    out.what = {"checks.early", {span_value("lain", lain), say::span("least", least_in_box)}};
    return out;
  }
  if (humidity.count < least_readings || temperature.count < least_readings) {
    out.what = {"checks.few",
                {say::count("readings", std::min(humidity.count, temperature.count)),
                 say::count("needed", least_readings)}};
    return out;
  }
  if (std::abs(humidity.per_hour) > steady_pct_per_hour) {
    out.what = {
        "checks.humidity-moves",
        {say::humidity_change("change", humidity.per_hour), say::humidity("steady", steady_pct_per_hour)}};
    return out;
  }
  if (std::abs(temperature.per_hour) > steady_k_per_hour) {
    out.what = {"checks.temperature-moves",
                {say::kelvin("change", temperature.per_hour), say::kelvin("steady", steady_k_per_hour)}};
    return out;
  }
  const auto check =
      models::check_sensor(run.salt, models::Celsius{temperature.mean},
                           models::Humidity{humidity.mean / 100.0}, sensor.tolerance_pct / 100.0);
  if (!check) {
    out.what = {
        "checks.no-value",
        {say::text("salt", std::string{name_of(run.salt)}), say::celsius("temperature", temperature.mean)}};
    return out;
  }
  SensorChecked result;
  result.sensor = sensor.name;
  result.salt = run.salt;
  result.temperature_c = rounded(temperature.mean, 0.01);
  result.expected_pct = rounded(check->expected.humidity.value() * 100.0, 0.01);
  result.expected_expanded_pct = rounded(check->expected.expanded * 100.0, 0.01);
  result.shown_pct = rounded(humidity.mean, 0.01);
  result.spread_pct = rounded(humidity.spread, 0.001);
  result.tolerance_pct = sensor.tolerance_pct;
  result.readings = static_cast<int>(humidity.count);
  result.steady_since = steady_since(box.humidity, humidity);
  result.verdict = check->verdict;
  add_correction(result, sensor, now);
  out.what = outcome(result);
  out.result = std::move(result);
  return out;
}

}  // namespace dryclock::engine
