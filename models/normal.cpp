#include "models/normal.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace dryclock::models {

double normal_density(double z) {
  return std::exp(-0.5 * z * z) / std::sqrt(2.0 * std::numbers::pi);
}

double normal_cdf(double z) {
  return 0.5 * std::erfc(-z / std::numbers::sqrt2);
}

double normal_quantile(double p) {
  const double q = p - 0.5;
  if (std::abs(q) <= 0.425) {
    const double r = 0.180625 - q * q;
    return q * (((59.109374720 * r + 159.29113202) * r + 50.434271938) * r + 3.3871327179) /
           (((67.187563600 * r + 78.757757664) * r + 17.895169469) * r + 1.0);
  }
  double r = std::sqrt(-std::log(std::min(p, 1.0 - p)));
  double z = 0.0;
  if (r <= 5.0) {
    r -= 1.6;
    z = (((0.17023821103 * r + 1.3067284816) * r + 2.7568153900) * r + 1.4234372777) /
        ((0.12021132975 * r + 0.73700164250) * r + 1.0);
  } else {
    r -= 5.0;
    z = (((0.017337203000 * r + 0.42868294337) * r + 3.0812263860) * r + 6.6579051150) /
        ((0.012258202635 * r + 0.24197894225) * r + 1.0);
  }
  return q < 0.0 ? -z : z;
}

QuickNormal::QuickNormal() : below_{} {
  for (std::size_t i = 1; i < places; ++i) {
    below_[i] = normal_cdf(static_cast<double>(i) / places_each - furthest);
  }
  below_[places] = below_[places + 1] = 1.0;
}

const QuickNormal& QuickNormal::table() {
  static const QuickNormal made;
  return made;
}

}  // namespace dryclock::models
