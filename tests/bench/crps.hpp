// The continuous ranked probability score, in the units of what is foretold; the less the better.
#pragma once

#include <cmath>
#include <numbers>
#include <vector>

#include "models/normal.hpp"
#include "models/quantiles.hpp"

namespace dryclock::bench {

// Of a normal forecast (Gneiting and Raftery 2007, equation 21).
inline double crps(double mean, double spread, double came) {
  const double z = (came - mean) / spread;
  const double density = std::exp(-0.5 * z * z) / std::sqrt(2.0 * std::numbers::pi);
  return spread *
         (z * (2.0 * models::normal_cdf(z) - 1.0) + 2.0 * density - 1.0 / std::sqrt(std::numbers::pi));
}

// Of weighted values: E|X - y| - E|X - X'|/2 (the same, equation 20).
inline double crps(const std::vector<models::Weighed>& values, double came) {
  double off = 0.0, apart = 0.0;
  for (const auto& one : values) {
    off += one.weight * std::abs(one.value - came);
    for (const auto& other : values) {
      apart += one.weight * other.weight * std::abs(one.value - other.value);
    }
  }
  return off - 0.5 * apart;
}

}  // namespace dryclock::bench
