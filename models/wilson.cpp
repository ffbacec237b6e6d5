#include "models/wilson.hpp"

#include <algorithm>
#include <cmath>

namespace dryclock::models {

ShareInterval wilson_interval(int hits, int cases, double z) {
  if (cases <= 0) {
    return {};
  }
  const double n = cases;
  const double share = hits / n;
  const double z2 = z * z;
  const double middle = (share + z2 / (2.0 * n)) / (1.0 + z2 / n);
  const double half = z / (1.0 + z2 / n) * std::sqrt(share * (1.0 - share) / n + z2 / (4.0 * n * n));
  return {std::max(0.0, middle - half), std::min(1.0, middle + half)};
}

}  // namespace dryclock::models
