#include "record/sensor_papers.hpp"

#include <algorithm>

namespace dryclock::record {

std::vector<SensorPaper> sensor_papers(const Record& record, const std::vector<SensorView>& devices) {
  std::vector<SensorPaper> papers;
  for (const auto& one : record.sensors) {
    const auto& name = one.mapping.sensor;
    if (std::ranges::find(papers, name, &SensorPaper::sensor) != papers.end()) {
      continue;
    }
    SensorPaper paper{.sensor = name, .model = {}, .place = {}, .checked = {}, .result = {}};
    if (const auto device = std::ranges::find(devices, name, &SensorView::name); device != devices.end()) {
      paper.model = device->model;
      paper.place = device->place;
      if (device->last_check) {
        paper.checked = device->last_check->at;
        paper.result = device->last_check->result;
      }
    }
    papers.push_back(std::move(paper));
  }
  return papers;
}

}  // namespace dryclock::record
