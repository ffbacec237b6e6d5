#include "models/course_trace.hpp"

#include <algorithm>

namespace dryclock::models {

template <class Value>
CourseTrace::Place CourseTrace::where(Value value, double target, std::size_t until) const {
  if (target < value(points_.front())) return {};
  std::size_t low = 0;
  std::size_t high = until;
  while (high - low > 1) {
    const std::size_t middle = (low + high) / 2;
    (value(points_[middle]) <= target ? low : high) = middle;
  }
  const double from = value(points_[low]);
  const double to = value(points_[high]);
  return {low, to > from && target > from ? (target - from) / (to - from) : 0.0};
}

template <class Value>
double CourseTrace::at(const Place& place, Value value) const {
  const double from = value(points_[place.index]);
  if (!(place.share > 0.0)) return from;
  const double to = value(points_[place.index + 1]);
  return place.share < 1.0 ? from + place.share * (to - from) : to;  // a point's own value, to the last bit
}

CourseTrace::Place CourseTrace::where_seconds(double seconds) const {
  const double within = std::clamp(seconds, 0.0, points_.back().seconds);
  return where([](const CoursePoint& point) { return point.seconds; }, within, points_.size() - 1);
}

CourseTrace::Place CourseTrace::where_film_time(std::size_t lane, double film_time, std::size_t until) const {
  return where([lane](const CoursePoint& point) { return point.film_time[lane]; }, film_time, until);
}

CourseTrace::Place CourseTrace::where_clock(BondLaw law, double clock, std::size_t until) const {
  const auto which = static_cast<std::size_t>(law);
  return where([which](const CoursePoint& point) { return point.clock[which]; }, clock, until);
}

double CourseTrace::drunk(const Place& place, std::size_t lane) const {
  return at(place, [lane](const CoursePoint& point) { return point.drunk[lane]; });
}

double CourseTrace::front_squared(const Place& place) const {
  return at(place, [](const CoursePoint& point) { return point.front_squared; });
}

}  // namespace dryclock::models
