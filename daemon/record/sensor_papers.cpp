#include "record/sensor_papers.hpp"

#include <algorithm>

namespace dryclock::record {

std::vector<SensorPaper> sensor_papers(const Record& record, const Setup& setup) {
  std::vector<SensorPaper> papers;
  for (const auto& one : record.sensors) {
    const auto& name = one.mapping.sensor;
    if (std::ranges::any_of(papers, [&](const SensorPaper& known) { return known.sensor == name; })) {
      continue;
    }
    SensorPaper paper{.sensor = name, .model = {}, .place = {}, .checked = {}, .result = {}};
    const auto about = std::ranges::find(setup.sensors, name, &SensorAbout::sensor);
    if (about != setup.sensors.end()) {
      paper.model = about->model;
      paper.place = about->place;
    }
    papers.push_back(std::move(paper));
  }
  return papers;
}

}  // namespace dryclock::record
