#include "config/read_sensors.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <set>

#include "base/wellformed.hpp"
#include "config/nearest.hpp"
#include "domain/event_fields.hpp"
#include "domain/quantities.hpp"

namespace dryclock::config {
namespace {

void check_bay(const Section& section, const std::string& bay, const std::vector<BaySetup>& bays) {
  if (bay.empty() ||
      std::any_of(bays.begin(), bays.end(), [&](const BaySetup& b) { return b.name == bay; })) {
    return;
  }
  section.complain("bay", fmt::format("no [[bay]] is named \"{}\"{}", bay,
                                      did_you_mean(bay, names_of(bays, &BaySetup::name))));
}

std::string read_topic(Section& section, const std::string& fallback) {
  auto topic = section.text("topic", fallback);
  if (section.has("topic")) {
    if (const auto wrong = wrong_with_topic_filter(topic); !wrong.empty()) {
      section.complain("topic", wrong);
    }
  }
  return topic;
}

std::string read_pointer(Section& section, std::string_view key, const std::string& fallback) {
  auto pointer = section.text(key, fallback);
  if (section.has(key)) {
    if (const auto wrong = wrong_with_pointer(pointer); !wrong.empty()) {
      section.complain(key, wrong);
    }
  }
  return pointer;
}

// One entry of `reads`; what it does not say it has from its sensor.
SensorMapping read_mapping(Section& section, SensorMapping of_sensor) {
  auto mapping = std::move(of_sensor);
  mapping.quantity = section.needed_word<Quantity>("quantity");
  mapping.topic = read_topic(section, mapping.topic);
  if (mapping.topic.empty() && !section.has("topic")) {
    section.need("topic");
  }
  mapping.pointer = read_pointer(section, "pointer", "");
  mapping.time_pointer = read_pointer(section, "time_pointer", mapping.time_pointer);
  mapping.unit = section.word<Unit>("unit", usual_unit(mapping.quantity));
  if (section.has("quantity") && !fits(mapping.unit, mapping.quantity)) {
    section.complain(
        "unit", fmt::format("\"{}\" is no unit of {}", name_of(mapping.unit), name_of(mapping.quantity)));
  }
  mapping.slope = section.number("slope", 1.0, correction_bounds);
  if (mapping.slope == 0.0) {
    section.complain("slope", "0 would hide every reading");
  }
  mapping.offset = section.number("offset", 0.0, correction_bounds);
  section.finish();
  return mapping;
}

}  // namespace

ReadSensors read_sensors(Section& root, const std::vector<BaySetup>& bays) {
  ReadSensors read;
  std::set<std::string> names;
  for (auto& section : root.list("sensor")) {
    SensorMapping sensor;
    sensor.sensor = section.new_name("sensor", names);
    sensor.bay = section.needed_text("bay");
    check_bay(section, sensor.bay, bays);
    SensorAbout about{sensor.sensor, section.text("model"), section.text("place")};
    if (!about.model.empty() || !about.place.empty()) {
      read.about.push_back(std::move(about));
    }
    sensor.topic = read_topic(section, "");
    sensor.time_pointer = read_pointer(section, "time_pointer", "");
    section.need("reads");
    std::set<Quantity> measured;
    for (auto& item : section.list("reads")) {
      auto mapping = read_mapping(item, sensor);
      if (!measured.insert(mapping.quantity).second && item.has("quantity")) {
        item.complain("quantity", fmt::format("this sensor reads {} already", name_of(mapping.quantity)));
      }
      read.mappings.push_back(std::move(mapping));
    }
    section.finish();
  }
  return read;
}

}  // namespace dryclock::config
