// How well a share is known from few cases.
#pragma once

namespace dryclock::models {

struct ShareInterval {
  double low = 0.0, high = 1.0;
};

// Score interval of a share, `hits` of `cases`, without continuity correction; z = 1.959964 for 95 %. It
// stays within 0 and 1, and holds for few cases and for none or all of them. No cases: 0 to 1. Source:
// [Wilson1927]; compared with other intervals in [Newcombe1998], method 3.
[[nodiscard]] ShareInterval wilson_interval(int hits, int cases, double z = 1.959964);

}  // namespace dryclock::models
