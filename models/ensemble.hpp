// The members: what is not known about a piece, drawn once and reproducibly, and weighed by what is seen
// later.
#pragma once

#include <cstdint>
#include <vector>

#include "models/catalogue.hpp"
#include "models/lanes.hpp"

namespace dryclock::models {

struct Quantiles {
  double low = 0.0, likely = 0.0, high = 0.0;  // 10th, 50th, 90th percentile over the members
  bool operator==(const Quantiles&) const = default;
};

// Inverse of the standard normal distribution, 0 < p < 1. [standard deviations] Wichura 1988, algorithm AS
// 241, PPND7 (coefficients from memory; relative accuracy about 1e-7 against the error function in the test).
[[nodiscard]] double normal_quantile(double p);
// The share of the standard normal distribution that lies below `z` standard deviations. [0..1]
[[nodiscard]] double normal_cdf(double z);

// Standard normal numbers of the members in each of `dimensions`: a Latin hypercube, so that every single
// dimension is spread evenly whatever the seed. Rows of dimensions.
[[nodiscard]] std::vector<Lanes> draw_normals(std::uint64_t seed, std::size_t dimensions);

// The value that lies `deviates` from the median of a log-normal through the range's 10th, 50th and 90th
// percentile (each side has its own width). Not positive or not ordered: the likely value, or 1e-3 at least.
[[nodiscard]] double from_range(const Range& range, double deviates);

using Weights = std::vector<double>;

// Weighted percentiles by linear interpolation between the members' mid-weights; +infinity allowed.
[[nodiscard]] Quantiles weighted_quantiles(const Lanes& values, const Weights& weights);

// Multiplies the weights by a likelihood and scales them to sum 1. No member falls below one hundredth of an
// equal share, so that a mistaken inspection can be undone by later ones.
void reweigh(Weights& weights, const Lanes& likelihood);

}  // namespace dryclock::models
