#include "compute/chances.hpp"

#include <algorithm>
#include <cmath>

#include "models/normal.hpp"

namespace dryclock::compute {
namespace {

constexpr double half_an_hour = 1800.0;  // s
constexpr std::size_t per_moment = 40;   // of the time from now, between later moments

// The slope at a knot that keeps a cubic monotone (Fritsch and Butland 1984): a harmonic mean of those to
// either side.
double slope_between(double before, double after, double length_before, double length_after) {
  if (!(before * after > 0.0)) return 0.0;
  const double a = 2.0 * length_after + length_before, b = length_after + 2.0 * length_before;
  return (a + b) / (a / before + b / after);
}

// A node's chance as a normal deviate goes nearly straight by the clock, so that few knots do. Within what
// can be told from never and for sure.
std::vector<Knot> as_deviates(std::span<const Knot> knots) {
  constexpr double least = 1e-7;
  std::vector<Knot> out(knots.begin(), knots.end());
  for (Knot& knot : out) {
    for (double& one : knot.chances) {
      one = models::normal_quantile(std::clamp(one, least, 1.0 - least));
    }
  }
  return out;
}

using Row = std::vector<double>;  // by node

// Between knots k and k + 1.
std::vector<Row> secants(std::span<const Knot> knots, std::span<const double> clock) {
  std::vector<Row> out;
  for (std::size_t k = 0; k + 1 < knots.size(); ++k) {
    const double length = clock[knots[k + 1].moment] - clock[knots[k].moment];
    Row& row = out.emplace_back(knots[k].chances.size());
    for (std::size_t n = 0; n < row.size(); ++n) {
      row[n] = (knots[k + 1].chances[n] - knots[k].chances[n]) / length;
    }
  }
  return out;
}

// At each knot.
std::vector<Row> slopes(std::span<const Knot> knots, std::span<const double> clock) {
  const auto secant = secants(knots, clock);
  std::vector<Row> out{secant.front()};
  for (std::size_t k = 1; k + 1 < knots.size(); ++k) {
    const double here = clock[knots[k].moment];
    const double before = here - clock[knots[k - 1].moment], after = clock[knots[k + 1].moment] - here;
    Row& row = out.emplace_back(secant[k].size());
    for (std::size_t n = 0; n < row.size(); ++n) {
      row[n] = slope_between(secant[k - 1][n], secant[k][n], before, after);
    }
  }
  out.push_back(secant.back());
  return out;
}

}  // namespace

Moments::Moments(std::size_t forecast_length, models::Seconds step)
    : spacing_(step),
      half_hour_(static_cast<std::size_t>(std::max(1.0, std::round(half_an_hour / step.value())))),
      steps_{0} {
  while (forecast_length > 0 && steps_.back() + 1 < forecast_length) {
    const std::size_t half_hours = std::max<std::size_t>(1, steps_.back() / half_hour_ / per_moment);
    steps_.push_back(std::min(steps_.back() + half_hours * half_hour_, forecast_length - 1));
  }
}

std::optional<double> Curve::crossing(double level) const {
  const auto above = std::ranges::lower_bound(chance_, level);
  if (above == chance_.end()) return std::nullopt;
  const auto moment = static_cast<std::size_t>(above - chance_.begin());
  if (moment == 0) return 0.0;
  const double before = chance_[moment - 1];
  const double from = moments_->seconds(moment - 1);
  return from + (level - before) / (*above - before) * (moments_->seconds(moment) - from);
}

double Curve::at(double seconds) const {
  std::size_t next = 0;
  while (next < chance_.size() && moments_->seconds(next) <= seconds) {
    ++next;
  }
  if (next == 0) return chance_.front();
  if (next == chance_.size()) return chance_.back();
  const double from = moments_->seconds(next - 1);
  const double share = (seconds - from) / (moments_->seconds(next) - from);
  return chance_[next - 1] + share * (chance_[next] - chance_[next - 1]);
}

void Chances::multiply(const Chances& other, std::span<const std::size_t> partner) {
  for (std::size_t moment = 0; moment < moments(); ++moment) {
    const auto mine = at(moment);
    const auto its = other.at(moment);
    for (std::size_t n = 0; n < nodes_; ++n) {
      mine[n] *= its[partner[n]];
    }
  }
}

Curve Chances::over(std::span<const models::ShopNode> nodes, const Moments& moments) const {
  Curve curve(moments);
  for (std::size_t moment = 0; moment < moments.size(); ++moment) {
    curve[moment] = std::min(1.0, mixed(at(moment), nodes));
  }
  return curve;
}

Chances through(std::span<const Knot> told, std::span<const double> clock) {
  Chances out(clock.size(), told.front().chances.size(), 0.0);
  std::ranges::copy(told.front().chances, out.at(0).begin());
  if (told.size() == 1) return out;
  const auto knots = as_deviates(told);
  const auto slope = slopes(knots, clock);
  const auto& normal = models::QuickNormal::table();
  for (std::size_t k = 0; k + 1 < knots.size(); ++k) {
    const double begin = clock[knots[k].moment];
    const double length = clock[knots[k + 1].moment] - begin;
    for (std::size_t moment = knots[k].moment + 1; moment <= knots[k + 1].moment; ++moment) {
      const double x = (clock[moment] - begin) / length;  // Hermite's four
      const double to = x * x * (3.0 - 2.0 * x), from = 1.0 - to;
      const double slope_from = length * x * (1.0 - x) * (1.0 - x), slope_to = length * x * x * (x - 1.0);
      const auto row = out.at(moment);
      const Row &here = knots[k].chances, &next = knots[k + 1].chances, &rise = slope[k],
                &next_rise = slope[k + 1];
      for (std::size_t n = 0; n < row.size(); ++n) {
        row[n] = normal.below(from * here[n] + to * next[n] + slope_from * rise[n] + slope_to * next_rise[n]);
      }
    }
  }
  return out;
}

double mixed(std::span<const double> chances, std::span<const models::ShopNode> nodes) {
  double sum = 0.0;
  for (std::size_t n = 0; n < nodes.size(); ++n) {
    sum += nodes[n].weight * chances[n];
  }
  return sum;
}

std::vector<std::size_t> partners(std::span<const models::ShopNode> nodes,
                                  std::span<const models::ShopNode> others) {
  std::vector<std::size_t> out;
  out.reserve(nodes.size());
  std::size_t other = 0;
  double so_far = 0.0, others_so_far = others.front().weight;  // of all the weight
  for (const models::ShopNode& node : nodes) {
    const double middle = so_far + 0.5 * node.weight;
    while (other + 1 < others.size() && others_so_far < middle) {
      others_so_far += others[++other].weight;
    }
    out.push_back(other);
    so_far += node.weight;
  }
  return out;
}

}  // namespace dryclock::compute
