#include "models/inspection.hpp"

#include <algorithm>
#include <cmath>

namespace dryclock::models {
namespace {

// 1 below the threshold, 0 above it, blurred by a factor of two either way: what a trained eye resolves.
double below(double water, double threshold) {
  const double steps = std::log(threshold / std::max(water, 1e-9)) / std::log(2.0);
  return 1.0 / (1.0 + std::exp(-1.7 * steps));
}

}  // namespace

double likelihood(Finding finding, double water, double bond) {
  constexpr double mistaken = 0.05;
  const double clear = below(water, 0.2);
  const double wet = 1.0 - below(water, 3.0);
  double seen = 0.0;
  switch (finding) {
    case Finding::clear:
      seen = clear;
      break;
    case Finding::wet:
      seen = wet;
      break;
    case Finding::hazy:
      seen = std::max(0.0, 1.0 - clear - wet);
      break;
    case Finding::lifting:
      seen = 1.0 - bond;
      break;
  }
  return mistaken + (1.0 - mistaken) * seen;
}

}  // namespace dryclock::models
