#include "models/inspection.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace dryclock::models {
namespace {

// From 1 far below a threshold to 0 far above it: `steps` below it, in standard deviations.
double below(double steps) {
  return 1.0 / (1.0 + std::exp(-1.7 * steps));
}

// By a factor of two either way: what a trained eye resolves.
double below(double value, double threshold, double blur) {
  return below(std::log(threshold / std::max(value, 1e-9)) / (blur * std::numbers::ln2));
}

constexpr double mistaken = 0.05;

double with_mistakes(double right) {
  return mistaken + (1.0 - mistaken) * right;
}

constexpr double holds_wet = 0.3;  // wet share of an edge above which it lifts
constexpr double few_wet = 0.03, quarter_wet = 0.25, most_wet = 0.75;
constexpr double odds_blur = 0.5;  // of ln odds

double log_odds(double share) {
  const double inside = std::clamp(share, 1e-9, 1.0 - 1e-9);
  return std::log(inside / (1.0 - inside));
}

// That so much is counted as less than a bound.
double counted_below(double share, double bound) {
  return below((log_odds(bound) - log_odds(share)) / odds_blur);
}

}  // namespace

SignSort sort_of(Sign sign) {
  if (sign <= Sign::clear) return SignSort::eye;
  return sign <= Sign::lifted ? SignSort::hold : SignSort::count;
}

std::optional<Sign> sign_of(Finding finding) {
  switch (finding) {
    case Finding::wet:
      return Sign::wet;
    case Finding::hazy:
      return Sign::hazy;
    case Finding::clear:
      return Sign::clear;
    case Finding::lifting:
      break;
  }
  return std::nullopt;
}

double sight(Sign sign, double water, double blur) {
  if (sort_of(sign) != SignSort::eye) return 1.0;
  const double clear = below(water, 0.2, blur);
  const double wet = 1.0 - below(water, 3.0, blur);
  if (sign == Sign::clear) return with_mistakes(clear);
  if (sign == Sign::wet) return with_mistakes(wet);
  return with_mistakes(std::max(0.0, 1.0 - clear - wet));
}

double share_sight(Sign sign, double wet_share) {
  switch (sign) {
    case Sign::held:
      return with_mistakes(below(wet_share, holds_wet, 1.0));
    case Sign::lifted:
      return with_mistakes(1.0 - below(wet_share, holds_wet, 1.0));
    case Sign::none_wet:
      return with_mistakes(counted_below(wet_share, few_wet));
    case Sign::tenth_wet:
      return with_mistakes(counted_below(wet_share, quarter_wet) - counted_below(wet_share, few_wet));
    case Sign::half_wet:
      return with_mistakes(counted_below(wet_share, most_wet) - counted_below(wet_share, quarter_wet));
    case Sign::mostly_wet:
      return with_mistakes(1.0 - counted_below(wet_share, most_wet));
    case Sign::wet:
    case Sign::hazy:
    case Sign::clear:
      break;
  }
  return 1.0;
}

}  // namespace dryclock::models
