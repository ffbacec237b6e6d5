#include "models/structural.hpp"

#include <cmath>
#include <numbers>

namespace dryclock::models {
namespace {

constexpr std::size_t plain = 4;  // parts that do not turn
constexpr double day = 24.0;      // h
constexpr std::array lasts{slow_lasts, medium_lasts, fast_lasts};

}  // namespace

Motion::Motion(double hours) {
  keeps_[0] = 1.0;
  forgot_[0] = hours;
  for (std::size_t i = 0; i < lasts.size(); ++i) {
    keeps_[i + 1] = std::exp(-hours / lasts[i]);
    forgot_[i + 1] = 1.0 - keeps_[i + 1] * keeps_[i + 1];
  }
  const double left = std::exp(-hours / waves_last);
  for (std::size_t j = 0; j < waves_.size(); ++j) {
    const double angle = 2.0 * std::numbers::pi * static_cast<double>(j + 1) * hours / day;
    waves_[j] = {left * std::cos(angle), left * std::sin(angle)};
    forgot_[plain + 2 * j] = forgot_[plain + 2 * j + 1] = 1.0 - left * left;
  }
}

Parts Motion::moved(const Parts& parts) const {
  Parts out;
  for (std::size_t i = 0; i < plain; ++i) {
    out[i] = keeps_[i] * parts[i];
  }
  for (std::size_t j = 0, i = plain; j < waves_.size(); ++j, i += 2) {
    out[i] = waves_[j].cosine * parts[i] + waves_[j].sine * parts[i + 1];
    out[i + 1] = waves_[j].cosine * parts[i + 1] - waves_[j].sine * parts[i];
  }
  return out;
}

Parts Motion::pulled(const Parts& row) const {
  Parts out;
  for (std::size_t i = 0; i < plain; ++i) {
    out[i] = keeps_[i] * row[i];
  }
  for (std::size_t j = 0, i = plain; j < waves_.size(); ++j, i += 2) {
    out[i] = waves_[j].cosine * row[i] - waves_[j].sine * row[i + 1];
    out[i + 1] = waves_[j].sine * row[i] + waves_[j].cosine * row[i + 1];
  }
  return out;
}

StructuralFilter::StructuralFilter(const Shares& s)
    : renewed_{s.level_step, s.slow, s.medium, s.fast, s.daily, s.daily, s.half_daily, s.half_daily},
      noise_(s.noise) {
  covariance_[0][0] = s.level;
  for (std::size_t i = 1; i < structural_parts; ++i) {
    covariance_[i][i] = renewed_[i];
  }
}

// P becomes F P F' + Q: the rows move, then the columns.
void StructuralFilter::pass(const Motion& motion) {
  for (Parts& row : covariance_) {
    row = motion.moved(row);
  }
  for (std::size_t c = 0; c < structural_parts; ++c) {
    Parts column;
    for (std::size_t r = 0; r < structural_parts; ++r) {
      column[r] = covariance_[r][c];
    }
    column = motion.moved(column);
    for (std::size_t r = 0; r < structural_parts; ++r) {
      covariance_[r][c] = column[r];
    }
  }
  for (std::size_t i = 0; i < structural_parts; ++i) {
    covariance_[i][i] += renewed_[i] * motion.forgot()[i];
  }
}

StructuralFilter::Taught StructuralFilter::see() {
  Parts with_value;  // covariance of each part with the value
  Taught taught;
  taught.variance = noise_;
  for (std::size_t i = 0; i < structural_parts; ++i) {
    with_value[i] = product(covariance_[i], value_row);
    taught.variance += value_row[i] * with_value[i];
  }
  for (std::size_t i = 0; i < structural_parts; ++i) {
    taught.gain[i] = with_value[i] / taught.variance;
  }
  for (std::size_t i = 0; i < structural_parts; ++i) {
    for (std::size_t j = 0; j <= i; ++j) {
      covariance_[i][j] -= with_value[i] * taught.gain[j];
      covariance_[j][i] = covariance_[i][j];
    }
  }
  return taught;
}

double StructuralFilter::variance(const Parts& row) const {
  double sum = 0.0;
  for (std::size_t i = 0; i < structural_parts; ++i) {
    sum += row[i] * product(covariance_[i], row);
  }
  return sum;
}

double product(const Parts& row, const Parts& parts) {
  double sum = 0.0;
  for (std::size_t i = 0; i < structural_parts; ++i) {
    sum += row[i] * parts[i];
  }
  return sum;
}

namespace {

// What a unit of each part's renewal comes to in row . parts: both halves of a wave are renewed alike.
void add_renewal(Parts& to, const Parts& row, const Parts& forgot) {
  for (std::size_t i = 0; i < structural_parts; ++i) {
    to[i] += row[i] * row[i] * forgot[i];
  }
}

}  // namespace

Leads leads(std::size_t hours) {
  const Motion one{1.0};
  Leads out;
  Parts sum{}, value_new{}, sum_new{};
  Parts value = value_row;  // after 0 hours
  Parts since_renewed{};    // row of the sum of y from the hour of a renewal on
  for (std::size_t h = 0;; ++h) {
    out.value.push_back(value);
    out.sum.push_back(sum);
    out.value_new.push_back(value_new);
    out.sum_new.push_back(sum_new);
    if (h == hours) return out;
    add_renewal(value_new, value, one.forgot());
    for (std::size_t i = 0; i < structural_parts; ++i) {
      since_renewed[i] += value[i];
    }
    add_renewal(sum_new, since_renewed, one.forgot());
    value = one.pulled(value);
    for (std::size_t i = 0; i < structural_parts; ++i) {
      sum[i] += value[i];
    }
  }
}

}  // namespace dryclock::models
