// The standard normal distribution.
#pragma once

namespace dryclock::models {

// Inverse of the distribution, 0 < p < 1. [standard deviations] Wichura 1988, algorithm AS 241, PPND7
// (coefficients from memory; relative accuracy about 1e-7 against the error function in the test).
[[nodiscard]] double normal_quantile(double p);
// The share that lies below `z` standard deviations. [0..1]
[[nodiscard]] double normal_cdf(double z);

}  // namespace dryclock::models
