#include "support/judged_by_age.hpp"

#include <algorithm>

namespace dryclock::support {
namespace {

double reached_after_h(std::size_t milestone) {
  return hours_each * static_cast<double>(milestone + 1);
}

OutlookAnswer::Item piece_of(const OutlookTask::Item& item, Time now) {
  const double age_h = item.piece.seconds() / 3600.0;
  OutlookAnswer::Item out;
  out.id = item.id;
  for (const auto& zone : item.piece.zones()) {
    ZoneView view;
    view.kind = zone.kind;
    const double water = std::max(0.0, 10.0 - age_h);
    view.water = {water / 2, water, water * 2};
    view.bond = {std::min(1.0, age_h / 20.0), std::min(1.0, age_h / 15.0), std::min(1.0, age_h / 10.0)};
    out.state.zones.push_back(view);
  }
  for (std::size_t k = 0; k < models::milestone_kinds; ++k) {
    const double left_h = std::max(0.0, reached_after_h(k) - age_h);
    const Time at = now + std::chrono::round<Millis>(std::chrono::duration<double, std::ratio<3600>>(left_h));
    auto& reach = out.reach[k];
    reach.probability = std::min(1.0, 0.9 * age_h / reached_after_h(k));
    reach.limiting_zone = item.piece.zones().front().kind;
    reach.expected = {at, at, at};
    reach.announces = at;
    reach.hours_to_go = left_h;
  }
  return out;
}

}  // namespace

OutlookAnswer judged_by_age(const OutlookTask& task) {
  constexpr double level = 0.9 - 1e-9;
  OutlookAnswer out;
  out.vehicle = task.vehicle;
  out.revision = task.revision;
  out.at = task.now;
  out.release_probability = task.pieces.empty() || !task.to_lay.empty() ? 0.0 : 1.0;
  for (const auto& item : task.pieces) {
    out.pieces.push_back(piece_of(item, task.now));
    const auto& reach = out.pieces.back().reach;
    for (std::size_t k = 0; k < models::milestone_kinds; ++k) {
      if (item.needed[k] && !item.said[k].ready && reach[k].probability >= level) {
        out.announcements.push_back(
            {item.id, static_cast<models::Milestone>(k), Word::ready, reach[k].probability});
      }
    }
    out.release_probability = std::min(out.release_probability, reach.back().probability);
  }
  if (!task.release_said.ready && out.release_probability >= level) {
    out.announcements.push_back({0, models::Milestone::may_leave, Word::ready, out.release_probability});
  }
  return out;
}

}  // namespace dryclock::support
