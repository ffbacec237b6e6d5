// Values at equal distances, for loops over a range.
#pragma once

#include <cmath>
#include <vector>

namespace dryclock::test {

// From `from` by `step`, up to `to`, which counts where it is met but for rounding.
inline std::vector<double> grid(double from, double to, double step) {
  std::vector<double> out;
  const auto count = static_cast<int>(std::floor((to - from) / step + 1e-9)) + 1;
  out.reserve(static_cast<std::size_t>(count));
  for (int i = 0; i < count; ++i) {
    out.push_back(from + i * step);
  }
  return out;
}

}  // namespace dryclock::test
