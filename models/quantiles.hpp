// Percentiles of what is not known for sure.
#pragma once

#include <vector>

namespace dryclock::models {

struct Quantiles {
  double low = 0.0, likely = 0.0, high = 0.0;  // 10th, 50th and 90th percentile
  bool operator==(const Quantiles&) const = default;
};

struct Weighed {
  double value = 0.0, weight = 0.0;
};
// Percentiles of weighted values, between them by linear interpolation at their mid-weights; +infinity
// allowed. The weights need not sum to 1. None: zeros.
[[nodiscard]] Quantiles quantiles(std::vector<Weighed> values);

}  // namespace dryclock::models
