#include "http/thin.hpp"

#include <array>
#include <cmath>
#include <limits>

namespace dryclock::http {
namespace {

constexpr std::array numbers{&AirPoint::air_c,     &AirPoint::rh_pct, &AirPoint::panel_c,
                             &AirPoint::air_speed, &AirPoint::pace,   &AirPoint::dew_point_c};

AirPoint mean_of(const AirPoint* first, const AirPoint* last) {
  AirPoint mean = *(last - 1);
  for (const auto number : numbers) {
    double sum = 0.0;
    int count = 0;
    for (const AirPoint* point = first; point != last; ++point) {
      if (!std::isnan(point->*number)) {
        sum += point->*number;
        ++count;
      }
    }
    mean.*number = count == 0 ? std::numeric_limits<double>::quiet_NaN() : sum / count;
  }
  for (const AirPoint* point = first; point != last; ++point) {
    mean.bridged = mean.bridged || point->bridged;
  }
  return mean;
}

}  // namespace

std::vector<AirPoint> thinned(const std::vector<AirPoint>& points, Millis every) {
  // A point at the end of a stretch belongs to it: intervals are (start, end].
  const auto stretch = [&](const AirPoint& point) { return (to_unix_ms(point.at) - 1) / every.count(); };
  std::vector<AirPoint> means;
  for (std::size_t begin = 0; begin < points.size();) {
    std::size_t end = begin + 1;
    while (end < points.size() && stretch(points[end]) == stretch(points[begin])) {
      ++end;
    }
    means.push_back(mean_of(points.data() + begin, points.data() + end));
    begin = end;
  }
  return means;
}

}  // namespace dryclock::http
