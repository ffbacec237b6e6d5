// How the water lies within a zone: not one thickness, but a log-normal distribution of thicknesses over the
// area, each of which breaks up into patches below w_c (water_layer.hpp).
//
// The film drinks alike from all of them, and they do not talk to each other (water_layer.hpp), so after it
// has drunk U the wet share of the area is
//     S(w, U) = E[ s(l(h) - U) ],   ln h ~ N(ln w - sigma^2/2, sigma^2),
// l(h) the layer's coordinate, s(l) its wetted share. In units of w_c only ln(w/w_c), U/w_c and sigma are
// left, so that S is a table for each sigma.
#pragma once

#include <array>
#include <cstddef>
#include <span>
#include <vector>

namespace dryclock::models {

class WaterSpread {
 public:
  // sigma: standard deviation of ln thickness within a zone, kept within 0.02..2.
  explicit WaterSpread(double sigma);

  [[nodiscard]] double sigma() const { return sigma_; }

  // S, summed: [0..1]. Water and drunk in the same unit as w_c; `water` is the mean over the zone at lay.
  [[nodiscard]] static double exact(double sigma, double water, double drunk, double break_up);
  // The same from the table, within 1e-3. log_water: ln(w/w_c); drunk: U/w_c, >= 0.
  [[nodiscard]] double wet_share(double log_water, double drunk) const;
  // left()/w, likewise. [0..1]
  [[nodiscard]] double left_share(double log_water, double drunk) const;
  // Mean water left: what each thickness still has. In the unit of the others.
  [[nodiscard]] static double left(double sigma, double water, double drunk, double break_up);

 private:
  friend class WetShares;

  double sigma_;
  // Over (log_water - ln(1 + drunk)) and ln(1 + drunk), row by row.
  std::vector<double> wet_, left_;
};

// A mean over moments: the zone as it was when the film had drunk so much, and the share of its width that a
// front from the margin had left then.
struct Moment {
  double weight = 1.0;
  double drunk = 0.0;   // U/w_c; negative: before lay, all wet
  double margin = 1.0;  // 0..1
};

inline constexpr std::size_t most_moments = 9;

// The weighted mean of margin * S over moments, `most_moments` at most, for any water at lay and any spread.
class WetShares {
 public:
  WetShares() = default;  // of none
  explicit WetShares(std::span<const Moment> moments);
  // log_water: ln(w/w_c).
  struct Share {
    double value, slope, bend;  // [0..1], by ln w, by its square
  };
  [[nodiscard]] Share at(const WaterSpread& spread, double log_water) const;
  // The most water with which it is at most `limit`, as ln(w/w_c). +infinity: with any; -infinity: with none.
  // `guess`: where to begin, or NaN; the answer is the same within 1e-6.
  [[nodiscard]] double most_water(const WaterSpread& spread, double limit, double guess) const;
  // ln(1 + the most U/w_c): what most_water() goes with, nearly.
  [[nodiscard]] double log_drunk() const { return most_shift_; }

 private:
  // Of a spread's table, where the film has drunk so much.
  struct Row {
    std::size_t low = 0;  // where it begins
    double share = 0.0;   // of the next row
    double shift = 0.0;   // ln(1 + U/w_c)
    double weight = 0.0;
  };
  std::array<Row, most_moments> rows_;
  std::size_t count_ = 0;
  double all_wet_ = 0.0, before_lay_ = 0.0, most_shift_ = 0.0;
};

}  // namespace dryclock::models
