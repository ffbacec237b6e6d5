// The standard normal distribution.
#pragma once

namespace dryclock::models {

// Inverse of the distribution, 0 < p < 1. [standard deviations] Wichura 1988, algorithm AS 241, PPND7
// (coefficients from memory; relative accuracy about 1e-7 against the error function in the test).
[[nodiscard]] double normal_quantile(double p);
// The share that lies below `z` standard deviations. [0..1]
[[nodiscard]] double normal_cdf(double z);
// The same from a table, within 5e-7, for where it is asked a hundred thousand times. Never falls with z;
// exactly 0 and 1 beyond six standard deviations.
[[nodiscard]] double quick_normal_cdf(double z);

}  // namespace dryclock::models
