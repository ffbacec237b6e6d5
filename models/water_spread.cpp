#include "models/water_spread.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numbers>

#include "models/ensemble.hpp"

namespace dryclock::models {
namespace {

// All in units of w_c.
class Columns {
 public:
  Columns(double sigma, double water) : sigma_(sigma), log_water_(std::log(water)), water_(water) {}

  // P(h > thickness) and E[h; h > thickness].
  [[nodiscard]] double above(double thickness) const { return normal_cdf(deviates(thickness) - sigma_); }
  [[nodiscard]] double held_above(double thickness) const { return water_ * normal_cdf(deviates(thickness)); }

  // What is in patches: E[exp(l(h) - U - 1); h < 1 + U], wet share and water alike.
  [[nodiscard]] double patches(double drunk) const {
    const double in_patches_at_lay = std::exp(-drunk) * (water_ - held_above(1.0));
    double sum = 0.0;
    for (double u = 0.0; u < std::min(drunk, nothing_left);) {
      const double h = 1.0 + drunk - u;
      const double width = std::min({0.5, 0.3 * sigma_ * h, drunk - u});
      sum += panel(u, std::max(width, finest), drunk);
      u += std::max(width, finest);
    }
    return in_patches_at_lay + sum;
  }

 private:
  static constexpr double nothing_left = 36.0;  // e^-36
  static constexpr double finest = 1e-3;

  // How far ln of the mean lies above ln of the thickness, half a sigma taken into account.
  [[nodiscard]] double deviates(double thickness) const {
    return (log_water_ - std::log(thickness)) / sigma_ + 0.5 * sigma_;
  }
  [[nodiscard]] double density(double h) const {
    const double z = (std::log(h) - log_water_) / sigma_ + 0.5 * sigma_;
    return std::exp(-0.5 * z * z) / (h * sigma_ * std::sqrt(2.0 * std::numbers::pi));
  }
  // Gauss and Legendre's three points.
  [[nodiscard]] double panel(double u, double width, double drunk) const {
    constexpr std::array<double, 3> at{0.1127016653792583, 0.5, 0.8872983346207417};
    constexpr std::array<double, 3> weight{5.0 / 18.0, 8.0 / 18.0, 5.0 / 18.0};
    double sum = 0.0;
    for (std::size_t i = 0; i < at.size(); ++i) {
      const double v = u + at[i] * width;
      sum += weight[i] * density(1.0 + drunk - v) * std::exp(-v);
    }
    return sum * width;
  }

  double sigma_, log_water_, water_;
};

// The table: ln(w/w_c) - ln(1 + U/w_c) along a row, asinh(U/w_c) from row to row.
constexpr double first_column = -6.0, last_column = 6.0, column_step = 0.05;
constexpr double last_row = 8.5, row_step = 0.1;  // U up to 2,500 w_c
constexpr auto columns = static_cast<std::size_t>((last_column - first_column) / column_step + 1.5);
constexpr auto rows = static_cast<std::size_t>(last_row / row_step + 1.5);

// The cubic through four neighbours, between the middle two.
double cubic(const double* y, double x) {
  const double bend = 2.0 * y[0] - 5.0 * y[1] + 4.0 * y[2] - y[3];
  const double twist = 3.0 * (y[1] - y[2]) + y[3] - y[0];
  return y[1] + 0.5 * x * (y[2] - y[0] + x * (bend + x * twist));
}

double look_up(const std::vector<double>& table, double log_water, double drunk) {
  const double row =
      std::clamp(std::asinh(std::max(0.0, drunk)) / row_step, 0.0, static_cast<double>(rows) - 1.001);
  const double column =
      std::clamp((log_water - std::log1p(std::max(0.0, drunk)) - first_column) / column_step, 1.0,
                 static_cast<double>(columns) - 2.001);
  const auto r = static_cast<std::size_t>(row);
  const auto c = static_cast<std::size_t>(column);
  const double x = column - static_cast<double>(c);
  const double* from = &table[r * columns + c - 1];
  const double low = cubic(from, x);
  const double high = cubic(from + columns, x);
  return std::clamp(low + (row - static_cast<double>(r)) * (high - low), 0.0, 1.0);
}

}  // namespace

double WaterSpread::exact(double sigma, double water, double drunk, double break_up) {
  const Columns lie(std::clamp(sigma, 0.02, 2.0), water / break_up);
  const double u = drunk / break_up;
  return std::clamp(lie.above(1.0 + u) + lie.patches(u), 0.0, 1.0);
}

double WaterSpread::left(double sigma, double water, double drunk, double break_up) {
  const Columns lie(std::clamp(sigma, 0.02, 2.0), water / break_up);
  const double u = drunk / break_up;
  const double units = lie.held_above(1.0 + u) - u * lie.above(1.0 + u) + lie.patches(u);
  return std::max(0.0, units * break_up);
}

WaterSpread::WaterSpread(double sigma)
    : sigma_(std::clamp(sigma, 0.02, 2.0)), wet_(rows * columns), left_(rows * columns) {
  for (std::size_t r = 0; r < rows; ++r) {
    const double drunk = std::sinh(static_cast<double>(r) * row_step);
    for (std::size_t c = 0; c < columns; ++c) {
      const double log_water = first_column + static_cast<double>(c) * column_step + std::log1p(drunk);
      const double water = std::exp(log_water);
      wet_[r * columns + c] = exact(sigma, water, drunk, 1.0);
      left_[r * columns + c] = left(sigma, water, drunk, 1.0) / water;
    }
  }
}

double WaterSpread::wet_share(double log_water, double drunk) const {
  return look_up(wet_, log_water, drunk);
}

double WaterSpread::left_share(double log_water, double drunk) const {
  return look_up(left_, log_water, drunk);
}

double most_water(const WaterSpread& spread, std::span<const Moment> moments, double limit, double guess) {
  constexpr double infinite = std::numeric_limits<double>::infinity();
  constexpr double near_enough = 1e-4;  // of ln w
  double all_wet = 0.0, before_lay = 0.0, most = 0.0;
  for (const Moment& moment : moments) {
    all_wet += moment.weight * moment.margin;
    if (moment.drunk < 0.0) before_lay += moment.weight * moment.margin;
    most = std::max(most, moment.drunk);
  }
  if (all_wet <= limit) return infinite;
  if (before_lay > limit) return -infinite;
  const auto too_wet = [&](double log_water) {
    double sum = before_lay - limit;
    for (const Moment& moment : moments) {
      if (moment.drunk >= 0.0)
        sum += moment.weight * moment.margin * spread.wet_share(log_water, moment.drunk);
    }
    return sum;
  };
  double low = first_column, high = last_column + std::log1p(most);
  double below = too_wet(low), above = too_wet(high);
  if (below >= 0.0) return -infinite;
  if (above <= 0.0) return infinite;
  // Illinois: false position, halving the end that stays.
  double at =
      std::isfinite(guess) ? std::clamp(guess, low + near_enough, high - near_enough) : 0.5 * (low + high);
  for (int i = 0; i < 60 && high - low > near_enough; ++i) {
    const double value = too_wet(at);
    if (value < 0.0) {
      low = at;
      below = value;
      above *= 0.5;
    } else {
      high = at;
      above = value;
      below *= 0.5;
    }
    at = std::clamp(low - below * (high - low) / (above - below), low + 0.25 * near_enough,
                    high - 0.25 * near_enough);
    if (std::abs(value) < 1e-6) break;
  }
  return at;
}

}  // namespace dryclock::models
