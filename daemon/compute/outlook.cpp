#include "compute/outlook.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <numeric>

#include "compute/latest_lay.hpp"

namespace dryclock::compute {
namespace {

// Chance that something has happened, by forecast step: never falls, since what was reached once counts.
using Curve = std::vector<double>;

// The first time at which `curve` is at `level`, in steps; absent where it never is.
std::optional<double> crossing(const Curve& curve, double level) {
  const auto above = std::lower_bound(curve.begin(), curve.end(), level);
  if (above == curve.end()) {
    return std::nullopt;
  }
  const auto step = static_cast<double>(above - curve.begin());
  if (above == curve.begin()) {
    return step;
  }
  const double before = *std::prev(above);
  return step - (*above - level) / (*above - before);
}

class Timeline {
 public:
  Timeline(Time now, models::Seconds step) : now_(now), step_(step) {}

  [[nodiscard]] std::optional<Time> time_of(std::optional<double> steps) const {
    if (!steps) {
      return std::nullopt;
    }
    return now_ + Millis{std::llround(*steps * step_.value() * 1000.0)};
  }
  [[nodiscard]] Spread spread(const Curve& curve) const {
    return {.early = time_of(crossing(curve, 0.1)),
            .likely = time_of(crossing(curve, 0.5)),
            .late = time_of(crossing(curve, 0.9))};
  }
  // Linear between steps; beyond the last, its value.
  [[nodiscard]] double value_at(const Curve& curve, Time at) const {
    const double steps = std::max(0.0, seconds_between(now_, at) / step_.value());
    const auto before = static_cast<std::size_t>(steps);
    if (before + 1 >= curve.size()) {
      return curve.back();
    }
    const double part = steps - static_cast<double>(before);
    return curve[before] + part * (curve[before + 1] - curve[before]);
  }

 private:
  Time now_;
  models::Seconds step_;
};

using Curves = std::array<Curve, models::milestone_kinds>;

Curves run_through(const models::Piece& piece, const std::vector<models::Surroundings>& air,
                   models::Seconds step) {
  const models::MemberTimes times = piece.look_ahead(air, step);
  const auto& weights = piece.weights();
  Curves curves;
  for (std::size_t which = 0; which < curves.size(); ++which) {
    Curve& curve = curves[which];
    curve.assign(std::max<std::size_t>(air.size(), 1), 0.0);
    for (std::size_t member = 0; member < weights.size(); ++member) {
      const double steps = std::ceil(times[which][member] / step.value());
      if (steps < static_cast<double>(curve.size())) {
        curve[static_cast<std::size_t>(steps)] += weights[member];
      }
    }
    std::partial_sum(curve.begin(), curve.end(), curve.begin());
  }
  return curves;
}

// The chance in one more course of the air, by its weight.
void mix(Curve& into, const Curve& curve, double weight) {
  into.resize(std::max(into.size(), curve.size()), 0.0);
  std::transform(curve.begin(), curve.end(), into.begin(), into.begin(),
                 [&](double chance, double sum) { return sum + weight * chance; });
}

}  // namespace

OutlookAnswer answer(const OutlookTask& task) {
  constexpr auto dry = static_cast<std::size_t>(models::Milestone::dry);
  const Timeline timeline(task.now, task.step);
  OutlookAnswer answer;
  answer.vehicle = task.vehicle;
  answer.revision = task.revision;
  // Within a course of the air the pieces know nothing of each other; the air itself they share.
  std::vector<Curves> pieces(task.pieces.size());
  Curve release;
  for (const auto& course : task.forecast) {
    Curve all(std::max<std::size_t>(course.air.size(), 1), 1.0);
    const auto waits_for = [&](const Curves& curves) {
      std::transform(all.begin(), all.end(), curves[dry].begin(), all.begin(), std::multiplies<>{});
    };
    for (std::size_t i = 0; i < pieces.size(); ++i) {
      const Curves curves = run_through(task.pieces[i].piece, course.air, task.step);
      for (std::size_t which = 0; which < curves.size(); ++which) {
        mix(pieces[i][which], curves[which], course.weight);
      }
      waits_for(curves);
    }
    for (std::size_t i = 0; i < task.to_lay.size() && !course.air.empty(); ++i) {
      waits_for(
          run_through(laid(task.to_lay[i].spec, task.thresholds, course.air.front()), course.air, task.step));
    }
    mix(release, all, course.weight);
  }
  if (release.empty()) {
    return answer;
  }
  for (std::size_t i = 0; i < pieces.size(); ++i) {
    auto& piece = answer.pieces.emplace_back();
    piece.id = task.pieces[i].id;
    std::transform(pieces[i].begin(), pieces[i].end(), piece.expected.begin(),
                   [&](const Curve& curve) { return timeline.spread(curve); });
  }
  for (const auto& planned : task.to_lay) {
    answer.to_lay.push_back(latest_lay(planned, task));
  }
  answer.release = timeline.spread(release);
  for (auto* time : {&answer.release.early, &answer.release.likely, &answer.release.late}) {
    if (*time) {
      *time = std::max(**time, task.earliest_release);
    }
  }
  if (task.hand_over && *task.hand_over >= task.earliest_release) {
    answer.hand_over_probability = timeline.value_at(release, *task.hand_over);
  }
  return answer;
}

}  // namespace dryclock::compute
