#include "engine/sensor_registry.hpp"

#include <algorithm>
#include <cmath>
#include <set>

#include "base/wellformed.hpp"
#include "domain/names.hpp"
#include "domain/quantities.hpp"
#include "engine/refusals.hpp"

namespace dryclock::engine {
namespace {

SensorMapping mapping_of(const SensorAssigned& sensor, const SensorRead& read) {
  return {sensor.sensor, sensor.bay, read.topic,  read.quantity,    read.pointer,
          read.unit,     read.slope, read.offset, read.time_pointer};
}

std::vector<SensorEntry> entries_of(const std::vector<SensorMapping>& mappings,
                                    const std::vector<SensorAbout>& about) {
  std::vector<SensorEntry> entries;
  for (const auto& mapping : mappings) {
    auto found = std::ranges::find(entries, mapping.sensor, &SensorEntry::name);
    if (found == entries.end()) {
      SensorEntry entry;
      entry.name = mapping.sensor;
      entry.bay = mapping.bay;
      if (const auto known = std::ranges::find(about, mapping.sensor, &SensorAbout::sensor);
          known != about.end()) {
        entry.model = known->model;
        entry.place = known->place;
      }
      found = entries.insert(entries.end(), std::move(entry));
    }
    found->mappings.push_back(mapping);
  }
  return entries;
}

Value word_of(Quantity quantity) {
  return say::word("quantity", "words.quantity-" + std::string{name_of(quantity)});
}
Refusal about(const char* key, const std::string& sensor) {
  return {{key, {say::text("sensor", sensor)}}, "/sensor"};
}

Allowed well_formed(const SensorRead& read, const std::string& where) {
  if (!wrong_with_topic_filter(read.topic).empty()) {
    return Refusal{{"refusals.topic-unfit"}, where + "/topic"};
  }
  if (!wrong_with_pointer(read.pointer).empty()) {
    return Refusal{{"refusals.pointer-unfit"}, where + "/pointer"};
  }
  if (!wrong_with_pointer(read.time_pointer).empty()) {
    return Refusal{{"refusals.pointer-unfit"}, where + "/time_pointer"};
  }
  if (!fits(read.unit, read.quantity)) {
    return Refusal{
        {"refusals.unit-unfit", {say::text("unit", std::string{name_of(read.unit)}), word_of(read.quantity)}},
        where + "/unit"};
  }
  if (read.slope == 0.0) {
    return Refusal{{"refusals.slope-zero"}, where + "/slope"};
  }
  return {};
}

}  // namespace

const SensorMapping* SensorEntry::mapping(Quantity quantity) const {
  const auto found = std::ranges::find(mappings, quantity, &SensorMapping::quantity);
  return found == mappings.end() ? nullptr : &*found;
}

SensorRegistry::SensorRegistry(const Setup& setup) {
  follow(setup);
  rebuild({});
}

void SensorRegistry::follow(const Setup& setup) {
  bays_ = setup.bays;
  of_file_ = setup.mappings;
  about_ = setup.sensors;
}

const SensorEntry* SensorRegistry::find(const std::string& name) const {
  const auto found = std::ranges::find(sensors_, name, &SensorEntry::name);
  return found == sensors_.end() ? nullptr : &*found;
}

Allowed SensorRegistry::known(const std::string& name) const {
  if (find(name) != nullptr) {
    return {};
  }
  std::vector<Fact> names;
  for (const auto& sensor : sensors_) {
    names.push_back(name_fact(sensor.name));
  }
  const auto count = say::count("n", names.size());
  return Refusal{
      {"refusals.no-sensor", {say::text("sensor", name), count, say::facts("known", std::move(names))}},
      "/sensor"};
}

Allowed SensorRegistry::possible(const Event& event) const {
  const auto not_of_file = [this](const std::string& name) -> Allowed {
    const auto* found = find(name);
    if (found != nullptr && found->from_file) {
      return about("refusals.sensor-of-file", name);
    }
    return {};
  };
  if (const auto* assigned = std::get_if<SensorAssigned>(&event.detail)) {
    if (assigned->sensor.empty()) {
      return Refusal{{"refusals.sensor-nameless"}, "/sensor"};
    }
    if (!wrong_with_name(assigned->sensor).empty()) {
      return Refusal{{"refusals.name-unfit"}, "/sensor"};
    }
    if (auto wrong = not_of_file(assigned->sensor); !wrong) {
      return wrong;
    }
    if (auto wrong = known_bay(bays_, assigned->bay, false); !wrong) {
      return wrong;
    }
    std::set<Quantity> measured;
    for (std::size_t i = 0; i < assigned->reads.size(); ++i) {
      const auto& read = assigned->reads[i];
      const auto where = "/reads/" + std::to_string(i);
      if (auto wrong = well_formed(read, where); !wrong) {
        return wrong;
      }
      if (!measured.insert(read.quantity).second) {
        return Refusal{{"refusals.read-twice", {word_of(read.quantity)}}, where + "/quantity"};
      }
    }
    return {};
  }
  if (const auto* retired = std::get_if<SensorRetired>(&event.detail)) {
    if (auto wrong = known(retired->sensor); !wrong) {
      return wrong;
    }
    return not_of_file(retired->sensor);
  }
  if (const auto* started = std::get_if<SensorCheckStarted>(&event.detail)) {
    if (auto wrong = known(started->sensor); !wrong) {
      return wrong;
    }
    if (find(started->sensor)->mapping(Quantity::relative_humidity) == nullptr) {
      return about("refusals.reads-no-humidity", started->sensor);
    }
    if (find(started->sensor)->mapping(Quantity::air_temperature) == nullptr) {
      return about("refusals.reads-no-temperature", started->sensor);
    }
    if (find(started->sensor)->checking(event.at) != nullptr) {
      return about("refusals.checking-already", started->sensor);
    }
    return {};
  }
  if (const auto* ended = std::get_if<SensorCheckEnded>(&event.detail)) {
    if (auto wrong = known(ended->sensor); !wrong) {
      return wrong;
    }
    if (find(ended->sensor)->checking(event.at) == nullptr) {
      return about("refusals.not-checking", ended->sensor);
    }
    return {};
  }
  if (const auto* checked = std::get_if<SensorChecked>(&event.detail)) {
    if (checked->slope && *checked->slope == 0.0) {
      return Refusal{{"refusals.slope-zero"}, "/slope"};
    }
    return known(checked->sensor);
  }
  if (const auto* corrected = std::get_if<SensorCorrected>(&event.detail)) {
    if (auto wrong = known(corrected->sensor); !wrong) {
      return wrong;
    }
    if (find(corrected->sensor)->mapping(corrected->quantity) == nullptr) {
      return Refusal{
          {"refusals.reads-no", {say::text("sensor", corrected->sensor), word_of(corrected->quantity)}},
          "/quantity"};
    }
    if (corrected->slope == 0.0) {
      return Refusal{{"refusals.slope-zero"}, "/slope"};
    }
  }
  return {};
}

void SensorRegistry::apply(const Event& event) {
  const auto find_it = [this](const std::string& name) {
    return std::ranges::find(sensors_, name, &SensorEntry::name);
  };
  const auto end_run = [](SensorEntry& sensor, Time at) {
    if (sensor.run && !sensor.run->over && at < sensor.run->until) {
      sensor.run->until = at + after_check;
      sensor.run->over = true;
    }
  };
  if (const auto* assigned = std::get_if<SensorAssigned>(&event.detail)) {
    auto found = find_it(assigned->sensor);
    if (found == sensors_.end()) {
      found = sensors_.insert(sensors_.end(), SensorEntry{});
    } else if (found->from_file) {
      return;
    }
    found->name = assigned->sensor;
    found->bay = assigned->bay;
    found->model = assigned->model;
    found->place = assigned->place;
    found->from_file = false;
    found->since = event.entered;
    found->tolerance_pct = assigned->tolerance_pct;
    found->mappings.clear();
    for (const auto& read : assigned->reads) {
      found->mappings.push_back(mapping_of(*assigned, read));
    }
    for (auto& check : found->checks) {
      check.current = false;
    }
  } else if (const auto* retired = std::get_if<SensorRetired>(&event.detail)) {
    const auto found = find_it(retired->sensor);
    if (found != sensors_.end() && !found->from_file) {
      sensors_.erase(found);
    }
  } else if (const auto* started = std::get_if<SensorCheckStarted>(&event.detail)) {
    if (const auto found = find_it(started->sensor); found != sensors_.end()) {
      found->run = CheckRun{event.seq, started->salt, event.at, event.at + longest_check, false};
    }
  } else if (const auto* ended = std::get_if<SensorCheckEnded>(&event.detail)) {
    if (const auto found = find_it(ended->sensor); found != sensors_.end()) {
      end_run(*found, event.at);
    }
  } else if (const auto* checked = std::get_if<SensorChecked>(&event.detail)) {
    if (const auto found = find_it(checked->sensor); found != sensors_.end()) {
      end_run(*found, event.at);
      found->checks.push_back({event.seq, event.at, *checked, true});
    }
  } else if (const auto* corrected = std::get_if<SensorCorrected>(&event.detail)) {
    const auto found = find_it(corrected->sensor);
    if (found == sensors_.end()) {
      return;
    }
    for (auto& mapping : found->mappings) {
      if (mapping.quantity == corrected->quantity) {
        mapping.slope = corrected->slope;
        mapping.offset = corrected->offset;
      }
    }
    for (auto& check : found->checks) {
      check.current = check.current && corrected->quantity != Quantity::relative_humidity;
    }
  }
}

void SensorRegistry::rebuild(const std::vector<Event>& standing) {
  ++revision_;
  sensors_ = entries_of(of_file_, about_);
  for (const auto& event : standing) {
    apply(event);
  }
  mappings_.clear();
  for (const auto& sensor : sensors_) {
    mappings_.insert(mappings_.end(), sensor.mappings.begin(), sensor.mappings.end());
  }
}

}  // namespace dryclock::engine
