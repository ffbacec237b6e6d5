// The bay's air from now on. It may take several courses, and pieces go through one of them.
//
// Film dries by what the air's pace comes to, its standard hours (models/pace.hpp): where a piece is after so
// many of them in one course, it is after as many in another. The courses differ by a few degrees and by
// their vapour; what that leaves out, the film's lag and the bond's own law of temperature, comes to minutes
// (tests/compute/test_air_ahead.cpp).
#pragma once

#include <cstddef>
#include <span>
#include <vector>

#include "compute/chances.hpp"
#include "domain/outlook.hpp"

namespace dryclock::compute {

// The last day goes on until there are so many; air of no more than a day stays as it is.
void go_on(std::vector<models::Surroundings>& air, models::Seconds step, std::size_t size);

class AirAhead {
 public:
  explicit AirAhead(const OutlookTask& task);

  [[nodiscard]] bool foretold() const { return moments_.size() > 1; }  // else there is but now
  [[nodiscard]] const Moments& moments() const { return moments_; }
  // The weightiest course, every step, and its moments. Its last day goes on for half as long again, since
  // other courses may deliver more.
  [[nodiscard]] std::span<const models::Surroundings> air() const { return air_; }
  [[nodiscard]] const Moments& gone_through() const { return gone_through_; }
  // Standard hours that it delivers by each of its moments, with a fiftieth of the time itself: they never
  // stand still.
  [[nodiscard]] std::span<const double> delivered() const { return delivered_; }
  // What happens by each moment, over all courses, from what happens in the one that is gone through.
  [[nodiscard]] Curve over_courses(const Curve& in_one) const;

 private:
  struct Place {
    std::size_t moment = 0;  // of the course that is gone through: after it,
    double share = 0.0;      // by so much of the way to the next
  };
  struct Course {
    double weight = 1.0;
    std::vector<Place> places;  // by moment: where the one that is gone through has come as far
  };
  std::vector<models::Surroundings> air_;
  Moments moments_, gone_through_;
  std::vector<double> delivered_{0.0};
  std::vector<Course> courses_;
};

}  // namespace dryclock::compute
