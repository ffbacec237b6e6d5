#include "models/coupon.hpp"

#include <algorithm>
#include <cmath>

#include "models/air_layer.hpp"
#include "models/humid_air.hpp"
#include "models/pace.hpp"

namespace dryclock::models {
namespace {

constexpr double reference_kelvin = 294.15;  // 21 C

// What drives the loss at one instant, and how it answers to the sensor's errors.
struct Drive {
  double force = 0.0;       // f(T) (p_sat - p_air), Pa
  double per_kelvin = 0.0;  // d force/dT at the same relative humidity
  double per_humidity = 0.0;
};

Drive drive_of(const CouponAir& air, double activation_energy) {
  const double t = air.temperature.kelvin();
  const double arrhenius =
      std::exp(-activation_energy / molar_gas_constant * (1.0 / t - 1.0 / reference_kelvin));
  const double saturation = saturation_pressure(air.temperature).value();
  const double force = arrhenius * saturation * (1.0 - air.humidity.value());
  const double slope = saturation_slope(air.temperature) + activation_energy / (molar_gas_constant * t * t);
  return {force, force * slope, -arrhenius * saturation};
}

Drive operator+(const Drive& a, const Drive& b) {
  return {a.force + b.force, a.per_kelvin + b.per_kelvin, a.per_humidity + b.per_humidity};
}
Drive operator*(const Drive& a, double k) {
  return {a.force * k, a.per_kelvin * k, a.per_humidity * k};
}

CouponAir between(const CouponAir& a, const CouponAir& b, Seconds at) {
  const double k = (at - a.at) / (b.at - a.at);
  return {at, a.temperature + (b.temperature - a.temperature) * k,
          a.humidity + (b.humidity - a.humidity) * k};
}

// Integrals of Drive from the first air entry to each of a rising series of times, by trapezoids.
class Exposure {
 public:
  explicit Exposure(const CouponTest& test) : air_(test.air), energy_(test.activation_energy) {}

  Drive until(Seconds at) {
    while (next_ + 1 < air_.size() && air_[next_].at < at) {
      sum_ = sum_ + trapezoid(air_[next_ - 1], air_[next_]);
      ++next_;
    }
    return sum_ + trapezoid(air_[next_ - 1], between(air_[next_ - 1], air_[next_], at));
  }

 private:
  [[nodiscard]] Drive trapezoid(const CouponAir& a, const CouponAir& b) const {
    return (drive_of(a, energy_) + drive_of(b, energy_)) * (0.5 * (b.at - a.at).value());
  }

  const std::vector<CouponAir>& air_;
  double energy_;
  std::size_t next_ = 1;
  Drive sum_;
};

struct Point {
  Drive exposure;
  double grams = 0.0;
};

struct Line {
  double slope = 0.0;
  double slope_uncertainty = 0.0;
};

// Least squares. The scatter is the weighings' own or the balance's, whichever is larger.
Line fit(const std::vector<Point>& points, double balance) {
  const auto n = static_cast<double>(points.size());
  double mean_x = 0.0, mean_y = 0.0;
  for (const Point& p : points) {
    mean_x += p.exposure.force / n;
    mean_y += p.grams / n;
  }
  double sxx = 0.0, sxy = 0.0;
  for (const Point& p : points) {
    sxx += (p.exposure.force - mean_x) * (p.exposure.force - mean_x);
    sxy += (p.exposure.force - mean_x) * (p.grams - mean_y);
  }
  if (!(sxx > 0.0)) {
    return {};
  }
  const double slope = sxy / sxx;
  double residual = 0.0;
  for (const Point& p : points) {
    const double r = p.grams - mean_y - slope * (p.exposure.force - mean_x);
    residual += r * r;
  }
  const double scatter = std::max(balance, std::sqrt(residual / (n - 2.0)));
  return {slope, scatter / std::sqrt(sxx)};
}

}  // namespace

CouponResult evaluate(const CouponTest& test) {
  CouponResult result;
  if (test.weighings.empty()) {
    result.problem = CouponProblem::too_few_weighings;
    return result;
  }
  const double until_grams = test.weighings.front().grams - 0.75 * test.water_grams;
  std::vector<Weighing> used;
  std::copy_if(test.weighings.begin(), test.weighings.end(), std::back_inserter(used),
               [&](const Weighing& w) { return w.at >= test.settling && w.grams >= until_grams; });
  result.weighings_used = used.size();
  if (used.size() < 4) {
    result.problem = CouponProblem::too_few_weighings;
    return result;
  }
  if (test.air.size() < 2 || test.air.front().at > used.front().at || test.air.back().at < used.back().at) {
    result.problem = CouponProblem::air_missing;
    return result;
  }

  Exposure exposure{test};
  std::vector<Point> points;
  points.reserve(used.size());
  for (const Weighing& w : used) {
    points.push_back({exposure.until(w.at), w.grams});
  }
  const Line line = fit(points, test.balance_grams);
  if (!(line.slope < 0.0) || -line.slope < 2.0 * line.slope_uncertainty) {
    result.problem = CouponProblem::no_loss;
    return result;
  }

  const double total = test.area_m2 * 1000.0 / -line.slope;
  const double layer = air_resistance(MetresPerSecond{test.still_air}, Celsius{21.0}).value();
  // A wrong sensor is wrong all day: its error scales the whole abscissa.
  const Drive whole = points.back().exposure + points.front().exposure * -1.0;
  const double by_temperature = whole.per_kelvin / whole.force * test.temperature.value();
  const double by_humidity = whole.per_humidity / whole.force * test.humidity;
  const double relative_total =
      std::hypot(std::hypot(line.slope_uncertainty / line.slope, test.area_relative),
                 std::hypot(by_temperature, by_humidity));
  result.resistance = Resistance{total - layer};
  result.relative_uncertainty = std::hypot(relative_total * total, 0.5 * layer) / result.resistance.value();
  for (const CouponAir& a : test.air) {
    Surroundings air;
    air.air = a.temperature;
    air.humidity = a.humidity;
    result.validity |= out_of_range(air);
  }
  return result;
}

}  // namespace dryclock::models
