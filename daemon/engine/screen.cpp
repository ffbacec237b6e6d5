#include "engine/screen.hpp"

#include <algorithm>
#include <cmath>

#include "engine/minutes.hpp"

namespace dryclock::engine {
namespace {

// Older repeats than these are `late` in any case: the bay has long been integrated beyond them.
constexpr std::size_t remembered_times = 1024;
// Sensors overshoot a little in saturated air; exactly nothing means a broken one.
constexpr double most_humidity_pct = 105.0;
constexpr double most_air_speed = 30.0;  // m/s; nothing indoors blows harder

}  // namespace

Screen::Screen(const ScreenLimits& limits, const std::vector<SensorMapping>& mappings) : limits_(limits) {
  follow(mappings, Time{});
}

void Screen::follow(const std::vector<SensorMapping>& mappings, Time now) {
  const auto is_gone = [&](const std::string& sensor, std::optional<Quantity> quantity) {
    return std::ranges::none_of(mappings, [&](const SensorMapping& mapping) {
      return mapping.sensor == sensor && (!quantity || mapping.quantity == *quantity);
    });
  };
  std::erase_if(streams_, [&](const auto& entry) { return is_gone(entry.first.first, entry.first.second); });
  std::erase_if(sensors_, [&](const auto& entry) { return is_gone(entry.first, {}); });
  for (const auto& mapping : mappings) {
    if (!sensors_.contains(mapping.sensor)) {
      sensors_[mapping.sensor].since = now;
    }
    auto& stream = streams_[{mapping.sensor, mapping.quantity}];
    stream.summary.sensor = mapping.sensor;
    stream.summary.bay = mapping.bay;
    stream.summary.quantity = mapping.quantity;
    auto& sensor = sensors_[mapping.sensor];
    sensor.name = mapping.sensor;
    sensor.bay = mapping.bay;
  }
  for (const auto& [name, sensor] : sensors_) {
    note_condition(name);
  }
}

Verdict Screen::judge(const Reading& reading, Time received_at, Place place) {
  auto& stream = streams_[{reading.sensor, reading.quantity}];
  stream.summary.sensor = reading.sensor;
  stream.summary.bay = reading.bay;
  stream.summary.quantity = reading.quantity;
  auto& sensor = sensors_[reading.sensor];
  sensor.name = reading.sensor;
  sensor.bay = reading.bay;
  if (!reading.retained) {  // a retained message says nothing about now
    sensor.heard = std::max(sensor.heard.value_or(received_at), received_at);
  }

  const Verdict verdict = first_look(stream, reading, received_at, place);
  remember(stream, reading, verdict);
  ++stream.summary.counts[static_cast<std::size_t>(verdict)];
  note_condition(reading.sensor);
  return verdict;
}

Verdict Screen::first_look(Stream& stream, const Reading& reading, Time received_at, Place place) {
  if (reading.retained) {
    return Verdict::retained;
  }
  if (reading.source_time && stream.source_times.contains(reading.at)) {
    return Verdict::duplicate;
  }
  if (!reading.source_time && reading.dup && stream.last_raw == reading.raw) {
    return Verdict::suspect_dup;
  }
  if (reading.source_time && reading.at > received_at + limits_.skew_limit) {
    return Verdict::skewed;
  }
  if (place.too_late) {
    return Verdict::late;
  }
  if (place.in_box) {
    return Verdict::being_checked;
  }
  if (!plausible(reading)) {
    return Verdict::implausible;
  }
  if (is_spike(stream, reading)) {
    return Verdict::spike;
  }
  return is_stuck(stream, reading) ? Verdict::stuck : Verdict::ok;
}

bool Screen::plausible(const Reading& reading) const {
  const double value = reading.value;
  switch (reading.quantity) {
    case Quantity::air_temperature:
      return value >= limits_.air_min_c && value <= limits_.air_max_c;
    case Quantity::panel_temperature:
      return value >= limits_.panel_min_c && value <= limits_.panel_max_c;
    case Quantity::relative_humidity:
      return value > 0.0 && value <= most_humidity_pct;
    case Quantity::air_speed:
      return value >= 0.0 && value <= most_air_speed;
  }
  return false;
}

// Whether the bay's air can have gone from there to here. A panel under a lamp and moving air can do
// anything.
bool Screen::reachable(const Reading& to, Time from_at, double from_value) const {
  double per_minute = 0.0;
  if (to.quantity == Quantity::air_temperature) {
    per_minute = limits_.air_jump_c_per_min;
  } else if (to.quantity == Quantity::relative_humidity) {
    per_minute = limits_.rh_jump_pct_per_min;
  } else {
    return true;
  }
  const double minutes = std::max(1.0, std::abs(seconds_between(from_at, to.at)) / 60.0);
  return std::abs(to.value - from_value) <= per_minute * minutes;
}

// A jump is held back until enough readings in a row stand near each other there: then it was real.
bool Screen::is_spike(Stream& stream, const Reading& reading) const {
  if (!stream.last_at || reachable(reading, *stream.last_at, stream.last_value)) {
    stream.jumps = 0;
    return false;
  }
  const bool near = stream.jumps > 0 && reachable(reading, stream.jump_at, stream.jump_value);
  stream.jumps = near ? stream.jumps + 1 : 1;
  stream.jump_at = reading.at;
  stream.jump_value = reading.value;
  if (stream.jumps < limits_.spike_confirmations) {
    return true;
  }
  stream.jumps = 0;
  return false;
}

// Real air is never the very same for hours; still air is: its speed is exempt. On a coarse sensor one
// quantity may well rest for a night, but not the sensor's others with it, nor one alone for a whole day.
bool Screen::is_stuck(const Stream& stream, const Reading& reading) const {
  constexpr int alone = 4;
  if (traits(reading.quantity).rests || !rests(stream, reading.raw, reading.at, limits_.stuck_after)) {
    return false;
  }
  if (rests(stream, reading.raw, reading.at, alone * limits_.stuck_after)) {
    return true;
  }
  for (std::size_t q = 0; q < quantity_kinds; ++q) {
    const auto other = streams_.find({reading.sensor, static_cast<Quantity>(q)});
    if (other == streams_.end() || &other->second == &stream || !other->second.last_raw ||
        traits(other->first.second).rests) {
      continue;
    }
    if (!rests(other->second, *other->second.last_raw, reading.at, limits_.stuck_after)) {
      return false;
    }
  }
  return true;
}

// Whether it has kept sending `raw` for that long. Silence is no rest.
bool Screen::rests(const Stream& stream, double raw, Time at, Millis for_long) const {
  return stream.last_raw == raw && at - stream.last_new <= limits_.stuck_after / 3 &&
         at - stream.same_since > for_long;
}

void Screen::remember(Stream& stream, const Reading& reading, Verdict verdict) {
  if (verdict == Verdict::retained || verdict == Verdict::duplicate || verdict == Verdict::suspect_dup) {
    return;  // nothing new was said
  }
  if (reading.source_time) {
    stream.source_times.insert(reading.at);
    if (stream.source_times.size() > remembered_times) {
      stream.source_times.erase(stream.source_times.begin());
    }
  }
  stream.summary.last_verdict = verdict;
  if (verdict == Verdict::skewed || verdict == Verdict::late) {
    return;  // its time cannot be trusted, or is behind what was already used
  }
  // A sensor that was silent between did not hold its value: it said nothing.
  if (stream.last_raw != reading.raw || reading.at - stream.last_new > limits_.stuck_after / 3) {
    stream.last_raw = reading.raw;
    stream.same_since = reading.at;
  }
  stream.last_new = reading.at;
  stream.summary.value = reading.value;
  stream.summary.at = reading.at;
  if (verdict == Verdict::ok) {
    stream.last_at = reading.at;
    stream.last_value = reading.value;
  }
}

void Screen::note_condition(const std::string& name) {
  auto& sensor = sensors_[name];
  sensor.stuck = sensor.implausible = sensor.skewed = false;
  for (std::size_t q = 0; q < quantity_kinds; ++q) {
    const auto found = streams_.find({sensor.name, static_cast<Quantity>(q)});
    if (found == streams_.end()) {
      continue;
    }
    const auto& summary = found->second.summary;
    sensor.stuck |= summary.last_verdict == Verdict::stuck;
    sensor.implausible |= summary.last_verdict == Verdict::implausible;
    sensor.skewed |= summary.last_verdict == Verdict::skewed;
    if (summary.last_verdict == Verdict::stuck || summary.last_verdict == Verdict::implausible) {
      sensor.odd_value = summary.value.value_or(0.0);
      sensor.odd_quantity = summary.quantity;
    }
  }
}

void Screen::clock_stepped() {
  for (auto& [key, stream] : streams_) {
    stream.last_raw.reset();
    stream.last_at.reset();
    stream.jumps = 0;
  }
}

const SensorSummary* Screen::find(const std::string& sensor, Quantity quantity) const {
  const auto found = streams_.find({sensor, quantity});
  return found == streams_.end() ? nullptr : &found->second.summary;
}

bool Screen::reads(const std::string& bay, Quantity quantity) const {
  return std::ranges::any_of(streams_, [&](const auto& entry) {
    return entry.first.second == quantity && entry.second.summary.bay == bay;
  });
}

std::vector<SensorSummary> Screen::sensors(const std::string& bay) const {
  std::vector<SensorSummary> out;
  for (const auto& [key, stream] : streams_) {
    if (stream.summary.bay == bay) {
      out.push_back(stream.summary);
    }
  }
  return out;
}

}  // namespace dryclock::engine
