#include "compute/latest_lay.hpp"

#include <algorithm>
#include <cmath>

#include "compute/air_ahead.hpp"
#include "models/piece_reach.hpp"

namespace dryclock::compute {
namespace {

constexpr double half_hour = 1800.0;  // s

// The chance that a piece laid some steps from now may leave by the agreed time.
class LaidLater {
 public:
  LaidLater(const models::LaidSpec& spec, const OutlookTask& task, const models::ShopLevels& levels,
            std::span<const models::ShopNode> nodes)
      : spec_(spec),
        task_(task),
        levels_(levels),
        nodes_(nodes),
        until_(static_cast<std::size_t>(
            std::max(0.0, std::floor(seconds_between(task.now, *task.hand_over) / task.step.value())))),
        courses_(task.forecast) {
    for (auto& [weight, air] : courses_) {
      go_on(air, task.step, until_ + 1);
    }
  }

  [[nodiscard]] double chance(std::size_t start) const {
    double sum = 0.0;
    for (const auto& [weight, air] : courses_) {
      const std::size_t until = std::min(until_, air.size() - 1);
      if (start >= until) continue;
      const auto rest = std::span{air}.subspan(start, until - start + 1);
      auto piece = laid(spec_, rest.front());
      piece.advance(rest, task_.step);
      sum += weight * models::PieceReach(piece, task_.thresholds, levels_)
                          .chance(models::Milestone::may_leave, piece.trace(0).size() - 1, nodes_);
    }
    return sum;
  }

 private:
  const models::LaidSpec& spec_;
  const OutlookTask& task_;
  const models::ShopLevels& levels_;
  std::span<const models::ShopNode> nodes_;
  std::size_t until_;  // the hand-over, in steps from now
  std::vector<models::WeightedCourse> courses_;
};

}  // namespace

models::LaidPiece laid(models::LaidSpec spec, const models::Surroundings& air) {
  spec.panel_at_lay = air.air;
  return {spec, air};
}

PieceToLay latest_lay(const OutlookTask::ToLay& planned, const OutlookTask& task,
                      const models::ShopLevels& levels, std::span<const models::ShopNode> nodes) {
  PieceToLay out{planned.piece, {}, {}};
  if (!task.hand_over || task.forecast.empty() || task.forecast.front().air.empty()) {
    return out;
  }
  const double left = seconds_between(task.now, *task.hand_over - task.least_indoor);
  if (left < 0.0) {
    out.chance_now = 0.0;
    return out;
  }
  const LaidLater later(planned.spec, task, levels, nodes);
  out.chance_now = later.chance(0);
  if (*out.chance_now < task.announce_level) {
    return out;
  }
  const auto stride =
      static_cast<std::size_t>(std::max(1.0, std::round(half_hour / task.step.value())));  // steps
  const double grid = static_cast<double>(stride) * task.step.value();                     // s
  std::size_t in_time = 0;
  auto too_late = static_cast<std::size_t>(left / grid) + 1;  // not enough time indoors
  while (too_late - in_time > 1) {
    const std::size_t middle = in_time + (too_late - in_time) / 2;
    (later.chance(middle * stride) >= task.announce_level ? in_time : too_late) = middle;
  }
  out.lay_by = task.now + Millis{std::llround(static_cast<double>(in_time) * grid * 1000.0)};
  return out;
}

}  // namespace dryclock::compute
