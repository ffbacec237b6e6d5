#include "models/water_spread.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numbers>

#include "models/normal.hpp"

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
  static constexpr double nothing_left = 20.0;  // e^-20
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

// The table: ln(w/w_c) - ln(1 + U/w_c) along a row, ln(1 + U/w_c) from row to row.
constexpr double first_column = -6.0, last_column = 6.0, column_step = 0.05;
constexpr double last_row = 7.8, row_step = 0.06;  // U up to 2,400 w_c
constexpr auto columns = static_cast<std::size_t>((last_column - first_column) / column_step + 1.5);
constexpr auto rows = static_cast<std::size_t>(last_row / row_step + 1.5);

// The cubic through four neighbours, between the middle two, as its factors.
struct Cubic {
  double at_0, rise, bend, twist;
  [[nodiscard]] double at(double x) const { return at_0 + 0.5 * x * (rise + x * (bend + x * twist)); }
  [[nodiscard]] double slope(double x) const { return 0.5 * (rise + x * (2.0 * bend + 3.0 * x * twist)); }
  [[nodiscard]] double bend_at(double x) const { return bend + 3.0 * x * twist; }
};
[[gnu::always_inline]] inline Cubic cubic(const std::array<double, 4>& y) {
  return {y[1], y[2] - y[0], 2.0 * y[0] - 5.0 * y[1] + 4.0 * y[2] - y[3], 3.0 * (y[1] - y[2]) + y[3] - y[0]};
}

// Where a table is looked up: a row by ln(1 + U/w_c), a column in it.
struct At {
  std::size_t place = 0;
  double share = 0.0;  // of the next
};
At row_at(double shift) {
  const double row = std::min(shift / row_step, static_cast<double>(rows) - 1.001);
  const auto r = static_cast<std::size_t>(static_cast<int>(row));
  return {r, row - static_cast<double>(r)};
}
[[gnu::always_inline]] inline At column_at(double log_water, double shift) {
  const double column =
      std::clamp((log_water - shift - first_column) / column_step, 1.0, static_cast<double>(columns) - 2.001);
  const auto c = static_cast<std::size_t>(static_cast<int>(column));
  return {c, column - static_cast<double>(c)};
}
// Through the values between two rows.
[[gnu::always_inline]] inline Cubic along(const double* row, double row_share, const At& column) {
  const double* from = row + column.place - 1;
  std::array<double, 4> y{};
  for (std::size_t i = 0; i < y.size(); ++i) {
    y[i] = from[i] + row_share * (from[columns + i] - from[i]);
  }
  return cubic(y);
}
double look_up(const std::vector<double>& table, double log_water, double drunk) {
  const double shift = std::log1p(std::max(0.0, drunk));
  const At row = row_at(shift), column = column_at(log_water, shift);
  return std::clamp(along(&table[row.place * columns], row.share, column).at(column.share), 0.0, 1.0);
}

}  // namespace

namespace {

// Of a zone in which the film has drunk so much: the share of it that is wet, and the water left.
struct Lies {
  double wet, left;
};
Lies lies(double sigma, double water, double drunk) {
  const Columns lie(std::clamp(sigma, 0.02, 2.0), water);
  const double above = lie.above(1.0 + drunk), patches = lie.patches(drunk);
  return {std::clamp(above + patches, 0.0, 1.0),
          std::max(0.0, lie.held_above(1.0 + drunk) - drunk * above + patches)};
}

}  // namespace

double WaterSpread::exact(double sigma, double water, double drunk, double break_up) {
  return lies(sigma, water / break_up, drunk / break_up).wet;
}

double WaterSpread::left(double sigma, double water, double drunk, double break_up) {
  return lies(sigma, water / break_up, drunk / break_up).left * break_up;
}

WaterSpread::WaterSpread(double sigma)
    : sigma_(std::clamp(sigma, 0.02, 2.0)), wet_(rows * columns), left_(rows * columns) {
  for (std::size_t r = 0; r < rows; ++r) {
    const double drunk = std::expm1(static_cast<double>(r) * row_step);
    for (std::size_t c = 0; c < columns; ++c) {
      const double log_water = first_column + static_cast<double>(c) * column_step + std::log1p(drunk);
      const double water = std::exp(log_water);
      const Lies here = lies(sigma, water, drunk);
      wet_[r * columns + c] = here.wet;
      left_[r * columns + c] = here.left / water;
    }
  }
}

double WaterSpread::wet_share(double log_water, double drunk) const {
  return look_up(wet_, log_water, drunk);
}

double WaterSpread::left_share(double log_water, double drunk) const {
  return look_up(left_, log_water, drunk);
}

WetShares::WetShares(std::span<const Moment> moments) {
  for (const Moment& moment : moments.first(std::min(moments.size(), most_moments))) {
    const double weight = moment.weight * moment.margin;
    all_wet_ += weight;
    if (moment.drunk < 0.0) {
      before_lay_ += weight;
    } else if (weight > 0.0) {
      const double shift = std::log1p(moment.drunk);
      const At row = row_at(shift);
      rows_[count_++] = {row.place * columns, row.share, shift, weight};
      most_shift_ = std::max(most_shift_, shift);
    }
  }
}

WetShares::Share WetShares::at(const WaterSpread& spread, double log_water) const {
  Share all{before_lay_, 0.0, 0.0};
  for (std::size_t i = 0; i < count_; ++i) {
    const Row& row = rows_[i];
    const At column = column_at(log_water, row.shift);
    const Cubic share = along(&spread.wet_[row.low], row.share, column);
    all.value += row.weight * std::clamp(share.at(column.share), 0.0, 1.0);
    all.slope += row.weight * share.slope(column.share);
    all.bend += row.weight * share.bend_at(column.share);
  }
  all.slope /= column_step;
  all.bend /= column_step * column_step;
  return all;
}

double WetShares::most_water(const WaterSpread& spread, double limit, double guess) const {
  constexpr double infinite = std::numeric_limits<double>::infinity();
  constexpr double last_step = 1e-3;    // of ln w: the step after it would be a thousandth of that
  constexpr double near_enough = 1e-7;  // of ln w
  if (all_wet_ <= limit) return infinite;
  if (before_lay_ > limit) return -infinite;
  const double least = first_column, most = last_column + most_shift_;
  // Halley's steps, kept between ends that close in.
  double low = least, high = most;
  double here = guess > low && guess < high ? guess : most_shift_;
  while (high - low > near_enough) {
    const Share share = at(spread, here);
    const double over = share.value - limit;
    (over < 0.0 ? low : high) = here;
    const double steepness = share.slope * share.slope - 0.5 * over * share.bend;
    double next = share.slope > 0.0 && steepness > 0.0 ? here - over * share.slope / steepness : low;
    const bool inside = next > low && next < high;
    if (!inside) next = 0.5 * (low + high);
    const double moved = std::abs(next - here);
    here = next;
    if (inside && moved < last_step) return here;
  }
  if (low == least) return -infinite;
  return high == most ? infinite : here;
}

}  // namespace dryclock::models
