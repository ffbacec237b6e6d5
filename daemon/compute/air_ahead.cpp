#include "compute/air_ahead.hpp"

#include <algorithm>

#include "models/pace.hpp"

namespace dryclock::compute {
namespace {

using models::Surroundings;

constexpr double at_rest = 0.02;  // standard hours an hour, where the air dries nothing

// Standard hours that the air has delivered by each moment.
std::vector<double> hours_by(const Moments& moments, const std::vector<Surroundings>& air) {
  const auto pace = [&](std::size_t step) {
    const Surroundings& here = air[step];
    return std::max(0.0, models::pace(here.air, here.air, here.humidity));
  };
  const double step_hours = moments.spacing().value() / 3600.0;
  std::vector<double> hours(1, 0.0);
  double before = pace(0);
  for (std::size_t moment = 1; moment < moments.size(); ++moment) {
    double delivered = hours.back();
    for (std::size_t step = moments.step(moment - 1) + 1; step <= moments.step(moment); ++step) {
      const double here = pace(step);
      delivered += step_hours * (at_rest + 0.5 * (before + here));
      before = here;
    }
    hours.push_back(delivered);
  }
  return hours;
}

}  // namespace

void go_on(std::vector<Surroundings>& air, models::Seconds step, std::size_t size) {
  const auto day = static_cast<std::size_t>(models::one_day / step);
  while (air.size() < size && air.size() > day) {
    air.push_back(air[air.size() - day]);
  }
}

AirAhead::AirAhead(const OutlookTask& task)
    : moments_(task.forecast.empty() ? 0 : task.forecast.front().air.size(), task.step),
      gone_through_(moments_) {
  if (!foretold()) return;
  const auto weightiest = std::ranges::max_element(task.forecast, {}, &models::WeightedCourse::weight);
  air_ = weightiest->air;
  go_on(air_, task.step, air_.size() + air_.size() / 2);
  gone_through_ = Moments(air_.size(), task.step);
  delivered_ = hours_by(gone_through_, air_);
  const auto& ours = delivered_;
  for (const auto& told : task.forecast) {
    Course course{told.weight, {}};
    const auto hours = &told == &*weightiest ? ours : hours_by(moments_, told.air);
    std::size_t from = 0;
    for (std::size_t moment = 0; moment < moments_.size(); ++moment) {
      while (from + 2 < ours.size() && ours[from + 1] < hours[moment]) {
        ++from;
      }
      const double share = (hours[moment] - ours[from]) / (ours[from + 1] - ours[from]);
      course.places.push_back({from, std::clamp(share, 0.0, 1.0)});
    }
    courses_.push_back(std::move(course));
  }
}

Curve AirAhead::over_courses(const Curve& in_one) const {
  Curve all(moments_);
  if (!foretold()) {
    all[0] = in_one[0];
    return all;
  }
  for (const Course& course : courses_) {
    for (std::size_t moment = 0; moment < course.places.size(); ++moment) {
      const auto& [from, share] = course.places[moment];
      const double here = in_one[from] + share * (in_one[from + 1] - in_one[from]);
      all[moment] = std::min(1.0, all[moment] + course.weight * here);
    }
  }
  return all;
}

}  // namespace dryclock::compute
