// A course over time: its points in order, and where it was at other times, as the film or the bond counts
// them. Linear between points.
#pragma once

#include <cstddef>
#include <vector>

#include "models/bond.hpp"
#include "models/film_course.hpp"
#include "models/lanes.hpp"

namespace dryclock::models {

class CourseTrace {
 public:
  // In order of time. The first is lay.
  void add(const CoursePoint& point) { points_.push_back(point); }
  [[nodiscard]] std::size_t size() const { return points_.size(); }
  [[nodiscard]] const CoursePoint& operator[](std::size_t index) const { return points_[index]; }
  bool operator==(const CourseTrace&) const = default;
  void replace_last(const CoursePoint& point) { points_.back() = point; }

  // A place between points: `share` of the way from `index` to the next.
  struct Place {
    std::size_t index = 0;
    double share = 0.0;
  };
  // So many seconds after lay; the end where that lies beyond.
  [[nodiscard]] Place where_seconds(double seconds) const;
  // At or before `until`, where a lane's film time, or a bond clock, showed so much.
  [[nodiscard]] Place where_film_time(std::size_t lane, double film_time, std::size_t until) const;
  [[nodiscard]] Place where_clock(BondLaw law, double clock, std::size_t until) const;

  [[nodiscard]] double drunk(const Place& place, std::size_t lane) const;
  [[nodiscard]] double front_squared(const Place& place) const;

 private:
  template <class Value>
  [[nodiscard]] Place where(Value value, double target, std::size_t until) const;
  template <class Value>
  [[nodiscard]] double at(const Place& place, Value value) const;

  std::vector<CoursePoint> points_;
};

}  // namespace dryclock::models
