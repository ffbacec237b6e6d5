#include "models/inspection.hpp"

#include <algorithm>
#include <cmath>

namespace dryclock::models {
namespace {

// 1 below the threshold, 0 above it, blurred by a factor of two either way: what a trained eye resolves.
double below(double water, double threshold, double blur) {
  const double steps = std::log(threshold / std::max(water, 1e-9)) / std::log(2.0);
  return 1.0 / (1.0 + std::exp(-1.7 * steps / blur));
}

constexpr double mistaken = 0.05;

// Of a finding that is not mistaken.
double seen_right(Finding finding, double water, double blur) {
  const double clear = below(water, 0.2, blur);
  const double wet = 1.0 - below(water, 3.0, blur);
  switch (finding) {
    case Finding::clear:
      return clear;
    case Finding::wet:
      return wet;
    case Finding::hazy:
      return std::max(0.0, 1.0 - clear - wet);
    case Finding::lifting:
      break;
  }
  return 1.0;
}

}  // namespace

double sight(Finding finding, double water, double blur) {
  return mistaken + (1.0 - mistaken) * seen_right(finding, water, blur);
}

}  // namespace dryclock::models
