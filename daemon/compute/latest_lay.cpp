#include "compute/latest_lay.hpp"

#include <algorithm>
#include <cmath>
#include <span>

namespace dryclock::compute {
namespace {

constexpr models::Seconds a_day{86'400.0};

// The chance that a piece laid some steps from now is dry by the agreed time.
class LaidLater {
 public:
  LaidLater(const models::PieceSpec& spec, const OutlookTask& task)
      : spec_(spec), task_(task), left_(seconds_between(task.now, *task.hand_over)), courses_(task.forecast) {
    const auto day = static_cast<std::size_t>(a_day / task.step);
    for (auto& [weight, air] : courses_) {
      const auto enough = static_cast<std::size_t>(std::max(0.0, std::ceil(left_ / task.step.value()))) + 1;
      while (air.size() < enough && air.size() > day) {
        air.push_back(air[air.size() - day]);
      }
    }
  }

  [[nodiscard]] double chance(std::size_t start) const {
    const double until = left_ - static_cast<double>(start) * task_.step.value();
    double sum = 0.0;
    for (const auto& [weight, air] : courses_) {
      if (start >= air.size()) {
        continue;
      }
      const std::span rest = std::span{air}.subspan(start);
      const auto piece = laid(spec_, task_.thresholds, rest.front());
      const auto dry = piece.look_ahead(rest, task_.step)[static_cast<std::size_t>(models::Milestone::dry)];
      for (std::size_t member = 0; member < dry.size(); ++member) {
        sum += dry[member] <= until ? weight * piece.weights()[member] : 0.0;
      }
    }
    return sum;
  }

 private:
  const models::PieceSpec& spec_;
  const OutlookTask& task_;
  double left_;  // s
  std::vector<OutlookTask::Course> courses_;
};

}  // namespace

models::Piece laid(models::PieceSpec spec, const models::Thresholds& thresholds,
                   const models::Surroundings& air) {
  spec.panel_at_lay = air.air;
  return {spec, thresholds, air};
}

PieceToLay latest_lay(const OutlookTask::ToLay& planned, const OutlookTask& task) {
  PieceToLay out{planned.piece, {}, {}};
  if (!task.hand_over || task.forecast.empty() || task.forecast.front().air.empty()) {
    return out;
  }
  const double last_step = seconds_between(task.now, *task.hand_over - task.least_indoor) / task.step.value();
  if (last_step < 0.0) {
    out.chance_now = 0.0;
    return out;
  }
  const LaidLater later(planned.spec, task);
  out.chance_now = later.chance(0);
  if (*out.chance_now < task.announce_level) {
    return out;
  }
  std::size_t in_time = 0;
  auto too_late = static_cast<std::size_t>(last_step) + 1;  // not enough time indoors
  while (too_late - in_time > 1) {
    const std::size_t middle = in_time + (too_late - in_time) / 2;
    (later.chance(middle) >= task.announce_level ? in_time : too_late) = middle;
  }
  out.lay_by = task.now + Millis{std::llround(static_cast<double>(in_time) * task.step.value() * 1000.0)};
  return out;
}

}  // namespace dryclock::compute
