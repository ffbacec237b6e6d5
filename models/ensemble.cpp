#include "models/ensemble.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <numeric>

namespace dryclock::models {
namespace {

// SplitMix64 (Steele, Lea, Flood 2014): one 64-bit state, every seed good.
class SplitMix {
 public:
  explicit SplitMix(std::uint64_t seed) : state_(seed) {}
  std::uint64_t next() {
    state_ += 0x9e3779b97f4a7c15U;
    std::uint64_t z = state_;
    z = (z ^ (z >> 30U)) * 0xbf58476d1ce4e5b9U;
    z = (z ^ (z >> 27U)) * 0x94d049bb133111ebU;
    return z ^ (z >> 31U);
  }

 private:
  std::uint64_t state_;
};

constexpr double decile = 1.2815515655446004;  // normal_quantile(0.9)
constexpr double weight_floor = 0.01;          // of an equal share

double interpolate(double target, const std::array<double, members>& at, const Lanes& values) {
  if (target <= at.front()) return values.front();
  if (target >= at.back()) return values.back();
  const auto above = static_cast<std::size_t>(std::upper_bound(at.begin(), at.end(), target) - at.begin());
  const double low = values[above - 1];
  const double high = values[above];
  if (!std::isfinite(high)) return high;
  return low + (high - low) * (target - at[above - 1]) / (at[above] - at[above - 1]);
}

}  // namespace

double normal_cdf(double z) {
  return 0.5 * std::erfc(-z / std::numbers::sqrt2);
}

double normal_quantile(double p) {
  const double q = p - 0.5;
  if (std::abs(q) <= 0.425) {
    const double r = 0.180625 - q * q;
    return q * (((59.109374720 * r + 159.29113202) * r + 50.434271938) * r + 3.3871327179) /
           (((67.187563600 * r + 78.757757664) * r + 17.895169469) * r + 1.0);
  }
  double r = std::sqrt(-std::log(std::min(p, 1.0 - p)));
  double z = 0.0;
  if (r <= 5.0) {
    r -= 1.6;
    z = (((0.17023821103 * r + 1.3067284816) * r + 2.7568153900) * r + 1.4234372777) /
        ((0.12021132975 * r + 0.73700164250) * r + 1.0);
  } else {
    r -= 5.0;
    z = (((0.017337203000 * r + 0.42868294337) * r + 3.0812263860) * r + 6.6579051150) /
        ((0.012258202635 * r + 0.24197894225) * r + 1.0);
  }
  return q < 0.0 ? -z : z;
}

std::vector<Lanes> draw_normals(std::uint64_t seed, std::size_t dimensions) {
  SplitMix random(seed);
  std::vector<Lanes> rows(dimensions);
  for (Lanes& row : rows) {
    for (std::size_t m = 0; m < members; ++m) {
      row[m] = normal_quantile((static_cast<double>(m) + 0.5) / static_cast<double>(members));
    }
    for (std::size_t m = members - 1; m > 0; --m) {
      std::swap(row[m], row[static_cast<std::size_t>(random.next() % (m + 1))]);
    }
  }
  return rows;
}

double from_range(const Range& range, double deviates) {
  constexpr double least = 1e-3;
  const double likely = range.likely > least ? range.likely : least;
  const double end = deviates < 0.0 ? range.low : range.high;
  const bool ordered = deviates < 0.0 ? end > 0.0 && end <= likely : end >= likely && std::isfinite(end);
  if (!ordered) return likely;
  return likely * std::pow(end / likely, std::abs(deviates) / decile);
}

Quantiles weighted_quantiles(const Lanes& values, const Weights& weights) {
  std::array<std::size_t, members> order{};
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
    return values[a] != values[b] ? values[a] < values[b] : a < b;
  });
  Lanes sorted{};
  std::array<double, members> at{};
  double sum = 0.0;
  for (std::size_t i = 0; i < members; ++i) {
    sorted[i] = values[order[i]];
    at[i] = sum + 0.5 * weights[order[i]];
    sum += weights[order[i]];
  }
  return {interpolate(0.1 * sum, at, sorted), interpolate(0.5 * sum, at, sorted),
          interpolate(0.9 * sum, at, sorted)};
}

void reweigh(Weights& weights, const Lanes& likelihood) {
  double sum = 0.0;
  for (std::size_t m = 0; m < members; ++m) {
    weights[m] *= likelihood[m];
    sum += weights[m];
  }
  const double equal = 1.0 / static_cast<double>(members);
  double floored = 0.0;
  for (double& weight : weights) {
    weight = std::max(sum > 0.0 ? weight / sum : equal, weight_floor * equal);
    floored += weight;
  }
  for (double& weight : weights) {
    weight /= floored;
  }
}

}  // namespace dryclock::models
