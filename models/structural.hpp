// A value by the hour, foretold by what it is made of (structural time series: Harvey 1989, chapters 2 and 3;
// Durbin and Koopman 2012, chapters 3 and 4), and the Kalman filter of it:
//   y = level + slow + medium + fast + wave of 24 h + wave of 12 h + noise.
// The level wanders; slow, medium and fast keep exp(-1/tau) of themselves from hour to hour; a wave turns by
// 2 pi j/24 and forgets too. All variances are in units of the value's own scale squared: what the filter
// does not know of y is then the same for every value that was seen at the same hours.
#pragma once

#include <array>
#include <cstddef>
#include <vector>

namespace dryclock::models {

// level, slow, medium, fast; of each wave its value now and what will be its value a quarter turn later.
inline constexpr std::size_t structural_parts = 8;
using Parts = std::array<double, structural_parts>;

// h, after which so much of a part has gone as leaves 1/e
inline constexpr double slow_lasts = 200.0, medium_lasts = 24.0, fast_lasts = 4.0, waves_last = 1000.0;

// Variances: of slow to half_daily as each comes to over a long time, of the level at first.
struct Shares {
  double level = 4.0;
  double level_step = 0.0;  // what the level's variance grows by in an hour
  double slow = 0.0, medium = 0.0, fast = 0.0;
  double daily = 0.0, half_daily = 0.0;
  double noise = 0.0;  // of one value
};

// How the parts go on in so many hours (any number, also a part of one).
class Motion {
 public:
  explicit Motion(double hours);
  [[nodiscard]] Parts moved(const Parts& parts) const;
  // The same of rows that are multiplied with parts from the left: row . moved(parts) = pulled(row) . parts.
  [[nodiscard]] Parts pulled(const Parts& row) const;
  // By how much each part's variance has become unknown again, where its long-run variance is 1; of the level
  // in units of its step.
  [[nodiscard]] const Parts& forgot() const { return forgot_; }

 private:
  struct Wave {
    double cosine = 1.0, sine = 0.0;  // with what is left of it
  };
  std::array<double, 4> keeps_{};
  std::array<Wave, 2> waves_{};
  Parts forgot_{};
};

// What is not known of the parts, as a covariance, and what a value teaches.
class StructuralFilter {
 public:
  explicit StructuralFilter(const Shares& shares);

  void pass(const Motion& motion);
  // A value comes: the mean of each part rises by gain times what the value was missed by.
  struct Taught {
    Parts gain{};
    double variance = 0.0;  // of what it was missed by
  };
  Taught see();

  // Variance of row . parts.
  [[nodiscard]] double variance(const Parts& row) const;
  // Long-run variance of each part (of the level: its step), and of one value's noise.
  [[nodiscard]] const Parts& renewed() const { return renewed_; }
  [[nodiscard]] double noise() const { return noise_; }

 private:
  std::array<Parts, structural_parts> covariance_{};
  Parts renewed_{};
  double noise_ = 0.0;
};

// y = value_row . parts + noise.
inline constexpr Parts value_row{1.0, 1.0, 1.0, 1.0, 1.0, 0.0, 1.0, 0.0};

[[nodiscard]] double product(const Parts& row, const Parts& parts);

// Rows for so many whole hours ahead, and what comes in unforeseen until then. The same for every value.
struct Leads {
  std::vector<Parts> value;      // row of y after h hours, from 0 on
  std::vector<Parts> sum;        // of the sum of y over hours 1 to h
  std::vector<Parts> value_new;  // variance of y after h hours by what each part renews (renewed() = 1)
  std::vector<Parts> sum_new;    // of that sum
};
[[nodiscard]] Leads leads(std::size_t hours);

}  // namespace dryclock::models
