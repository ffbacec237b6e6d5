#include "record/sensor_papers.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "domain/names.hpp"

namespace dryclock::record {
namespace {

std::string in_words(const SensorChecked& check) {
  return fmt::format(
      "{}: showed {:.1f} %RH over {} at {:.1f} C, where {:.1f} is expected (within {:.1f}, k = 2); its maker "
      "states {:.1f} %RH",
      name_of(check.verdict), check.shown_pct, name_of(check.salt), check.temperature_c, check.expected_pct,
      check.expected_expanded_pct, check.tolerance_pct);
}

}  // namespace

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
        paper.result = in_words(device->last_check->result);
      }
    }
    papers.push_back(std::move(paper));
  }
  return papers;
}

}  // namespace dryclock::record
