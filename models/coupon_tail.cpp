#include "models/coupon_tail.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>

#include "models/course_trace.hpp"
#include "models/reach.hpp"
#include "models/shop_levels.hpp"

namespace dryclock::models {
namespace {

// ln of the film's resistance against what the straight line gave, which is 2.3 times too much where
// parts dry before the last quarter: the lanes of the coupon's course.
constexpr double first_lane = -1.2, lane_step = 0.2;
constexpr double off_sd = 0.5;  // of ln resistance and ln water, beforehand
// g/m2 that the sum above is off: the film follows the air's humidity within an hour, not at once.
// Assumption.
constexpr double film_lags = 0.05;
constexpr double late_film = 600.0;  // s after lay that the air may begin

Lanes coupon_lanes() {
  Lanes lanes{};
  for (std::size_t m = 0; m < members; ++m) {
    lanes[m] = first_lane + lane_step * static_cast<double>(m);
  }
  return lanes;
}

FilmStack scaled_to(FilmStack stack, double resistance) {
  double sum = 0.0;
  for (const Layer& layer : stack.layers) {
    sum += layer.thickness.value() / layer.permeability.value();
  }
  for (Layer& layer : stack.layers) {
    layer.permeability = Permeability{layer.permeability.value() * sum / resistance};
  }
  return stack;
}

Surroundings over(const CouponAir& air) {
  Surroundings out;
  out.air = air.temperature;
  out.humidity = air.humidity;
  out.panel_c = air.temperature.value();
  return out;
}

CouponAir at_moment(const std::vector<CouponAir>& air, Seconds when) {
  const auto after = std::ranges::find_if(air, [&](const CouponAir& one) { return one.at >= when; });
  if (after == air.begin()) return {when, air.front().temperature, air.front().humidity};
  if (after == air.end()) return {when, air.back().temperature, air.back().humidity};
  const CouponAir& a = *std::prev(after);
  const double share = (when - a.at) / (after->at - a.at);
  return {when, a.temperature + (after->temperature - a.temperature) * share,
          a.humidity + (after->humidity - a.humidity) * share};
}

// What is known of the coupon at one weighing, whatever its water did.
struct Sight {
  double grams = 0.0;
  double activity = 0.0;                         // of the air
  Lanes drunk{};                                 // g/m2
  std::array<Lanes, looks_back> drunk_before{};  // as the film's moisture sees it
};

struct Coupon {
  double area = 0.0;
  double over_liquid = 0.0, saturated = 0.0;  // E and C, g/m2
  double usual_water = 0.0;                   // g/m2, as it was told
  std::vector<Sight> sights;
};

Coupon follow(const CouponTest& test, const FilmStack& stack) {
  CourseSpec spec;
  spec.stack = stack;
  spec.air_layer_coefficient = test.still_air;
  spec.usual_water = GramsPerSquareMetre{test.water_grams / test.area_m2};
  CouponAir now = at_moment(test.air, Seconds{0.0});
  spec.panel_at_lay = now.temperature;
  const Lanes lanes = coupon_lanes();
  Lanes factor{};
  std::ranges::transform(lanes, factor.begin(), [](double ln) { return std::exp(ln); });
  FilmCourse course(spec, factor, over(now));
  CourseTrace trace;
  trace.add(course.now());

  Coupon out{
      test.area_m2, course.modes().inner_content, course.modes().capacity, spec.usual_water.value(), {}};
  const auto delays = excess_delays(course.modes());
  const auto go_to = [&](const CouponAir& next) {
    if (!(next.at > now.at)) return;
    course.advance(over(now), over(next), next.at - now.at);
    trace.add(course.now());
    now = next;
  };
  auto air = std::ranges::find_if(test.air, [](const CouponAir& one) { return one.at > Seconds{0.0}; });
  for (const Weighing& weighing : test.weighings) {
    if (weighing.at < test.settling || weighing.at > test.air.back().at) continue;
    for (; air != test.air.end() && air->at < weighing.at; ++air) {
      go_to(*air);
    }
    go_to(at_moment(test.air, weighing.at));
    Sight sight;
    sight.grams = weighing.grams;
    sight.activity = std::min(1.0, now.humidity.value());
    sight.drunk = course.now().drunk;
    for (std::size_t m = 0; m < members; ++m) {
      const LooksBack looks = excess_looks(trace, trace.size() - 1, m, delays);
      for (std::size_t i = 0; i < looks_back; ++i) {
        sight.drunk_before[i][m] = trace.drunk(looks.places[i], m);
      }
    }
    out.sights.push_back(sight);
  }
  return out;
}

// What is to be found of a coupon besides the way that its water lies: ln against what was told and measured.
struct Off {
  double resistance = 0.0, water = 0.0;
};

class Fit {
 public:
  Fit(const Coupon& coupon, const Lanes& lanes, const WaterWorld& world, double noise)
      : coupon_(coupon), lanes_(lanes), world_(world), noise_(noise) {}

  struct Best {
    double cost = 0.0;  // twice minus the logarithm of the likelihood
    Off off;
    double variance = 0.0;  // of off.resistance
  };
  // Found by Gauss and Newton's method, damped.
  [[nodiscard]] Best best() const {
    constexpr double nudge = 0.01;
    Best found;
    Off& at = found.off;
    auto here = residuals(at);
    double damping = 1e-3;
    found.cost = dot(here, here);
    for (int round = 0; round < 30; ++round) {
      const auto by_resistance = difference(residuals({at.resistance + nudge, at.water}), here, nudge);
      const auto by_water = difference(residuals({at.resistance, at.water + nudge}), here, nudge);
      const double rr = dot(by_resistance, by_resistance) * (1.0 + damping);
      const double ww = dot(by_water, by_water) * (1.0 + damping), rw = dot(by_resistance, by_water);
      const double r = dot(by_resistance, here), w = dot(by_water, here);
      const double size = rr * ww - rw * rw;
      if (!(size > 0.0)) break;
      found.variance = ww / size;
      const Off next{at.resistance - (ww * r - rw * w) / size, at.water - (rr * w - rw * r) / size};
      const auto there = residuals(next);
      const double less = found.cost - dot(there, there);
      if (less > 0.0) {
        at = next;
        here = there;
        found.cost -= less;
        damping *= 0.3;
      } else {
        damping *= 10.0;
      }
      if (less > 0.0 ? less < 1e-4 : damping > 1e6) break;
    }
    return found;
  }

 private:
  [[nodiscard]] double grams(const Sight& sight, const Off& off) const {
    const double unit = world_.break_up;
    const double water = coupon_.usual_water * std::exp(off.water), ln_water = std::log(water / unit);
    const auto drunk = [&](const Lanes& by) { return between_lanes(by, lanes_, off.resistance) / unit; };
    double wet = 0.0;
    for (std::size_t i = 0; i < looks_back; ++i) {
      wet += look_weights[i] * world_.spread->wet_share(ln_water, drunk(sight.drunk_before[i]));
    }
    const double left = water * world_.spread->left_share(ln_water, drunk(sight.drunk));
    return coupon_.area *
           (left + coupon_.over_liquid * (1.0 - sight.activity) * wet + coupon_.saturated * sight.activity);
  }
  // In standard deviations; the plate's own mass is taken off, and the last two are what was thought before.
  [[nodiscard]] std::vector<double> residuals(const Off& off) const {
    std::vector<double> out;
    for (const Sight& sight : coupon_.sights) {
      out.push_back((sight.grams - grams(sight, off)) / noise_);
    }
    const double plate =
        std::accumulate(out.begin(), out.end(), 0.0) / static_cast<double>(coupon_.sights.size());
    for (double& one : out) {
      one -= plate;
    }
    out.push_back(off.resistance / off_sd);
    out.push_back(off.water / off_sd);
    return out;
  }
  static double dot(const std::vector<double>& a, const std::vector<double>& b) {
    return std::inner_product(a.begin(), a.end(), b.begin(), 0.0);
  }
  static std::vector<double> difference(std::vector<double> to, const std::vector<double>& from,
                                        double step) {
    for (std::size_t i = 0; i < to.size(); ++i) {
      to[i] = (to[i] - from[i]) / step;
    }
    return to;
  }

  const Coupon& coupon_;
  const Lanes& lanes_;
  const WaterWorld& world_;
  double noise_;
};

bool same_water(const TailPoint& point, const WaterWorld& world) {
  return point.spread == world.spread->sigma() && point.break_up == world.break_up;
}

bool end_was_seen(const CouponTest& test, const FilmStack& stack, const CouponResult& result) {
  if (result.problem != CouponProblem::none || stack.layers.empty() || !(result.resistance.value() > 0.0) ||
      test.air.front().at.value() > late_film) {
    return false;
  }
  const double quarter = test.weighings.front().grams - 0.75 * test.water_grams;
  const auto seen = std::ranges::count_if(test.weighings, [&](const Weighing& one) {
    return one.at >= test.settling && one.at <= test.air.back().at && one.grams < quarter;
  });
  return seen >= static_cast<std::ptrdiff_t>(least_tail_weighings);
}

}  // namespace

CouponTail evaluate_tail(const CouponTest& test, const FilmStack& stack, const CouponResult& result) {
  CouponTail tail;
  if (!end_was_seen(test, stack, result)) return tail;
  const Coupon coupon = follow(test, scaled_to(stack, result.resistance.value()));
  const Lanes lanes = coupon_lanes();
  const double noise = std::hypot(test.balance_grams, film_lags * test.area_m2);
  std::vector<Fit::Best> fits;
  std::vector<double> usual;  // the points' weights beforehand
  for (const ShopWorld& world : shop_worlds()) {
    const auto known =
        std::ranges::find_if(tail.points, [&](const auto& one) { return same_water(one, world.water); });
    if (known != tail.points.end()) {
      usual[static_cast<std::size_t>(known - tail.points.begin())] += world.weight;
      continue;
    }
    tail.points.push_back({world.water.spread->sigma(), world.water.break_up, 1.0});
    usual.push_back(world.weight);
    fits.push_back(Fit(coupon, lanes, world.water, noise).best());
  }
  const double least = std::ranges::min_element(fits, {}, &Fit::Best::cost)->cost;
  // The scatter is the weighings' own where that is larger.
  const double free = static_cast<double>(coupon.sights.size()) - 3.0;
  const double scatter = std::max(1.0, least / std::max(1.0, free));
  double all = 0.0, squared = 0.0;
  for (std::size_t i = 0; i < fits.size(); ++i) {
    const double likelihood = std::exp(-0.5 * (fits[i].cost - least) / scatter);
    const double weight = usual[i] * likelihood, off = fits[i].off.resistance;
    tail.points[i].likelihood = unlike_coupons + (1.0 - unlike_coupons) * likelihood;
    all += weight;
    tail.ln_resistance += weight * off;
    squared += weight * (off * off + fits[i].variance * scatter);
  }
  tail.ln_resistance /= all;
  tail.resistance_sd = std::sqrt(std::max(0.0, squared / all - tail.ln_resistance * tail.ln_resistance));
  return tail;
}

std::vector<double> world_likelihoods(std::span<const TailPoint> points) {
  std::vector<double> out;
  if (points.empty()) return out;
  for (const ShopWorld& world : shop_worlds()) {
    const auto apart = [&](const TailPoint& point) {
      return std::hypot(std::log(point.spread / world.water.spread->sigma()),
                        std::log(point.break_up / world.water.break_up));
    };
    out.push_back(std::ranges::min_element(points, {}, apart)->likelihood);
  }
  return out;
}

WaterLies water_lies(std::span<const TailPoint> points) {
  const auto likelihoods = world_likelihoods(points);
  WaterLies out;
  double all = 0.0, spread2 = 0.0, break_up2 = 0.0;
  for (std::size_t w = 0; w < shop_worlds().size(); ++w) {
    const ShopWorld& world = shop_worlds()[w];
    const double weight = world.weight * (likelihoods.empty() ? 1.0 : likelihoods[w]);
    const double spread = std::log(world.water.spread->sigma()), break_up = std::log(world.water.break_up);
    all += weight;
    out.ln_spread += weight * spread;
    spread2 += weight * spread * spread;
    out.ln_break_up += weight * break_up;
    break_up2 += weight * break_up * break_up;
  }
  out.ln_spread /= all;
  out.ln_break_up /= all;
  out.spread_sd = std::sqrt(std::max(0.0, spread2 / all - out.ln_spread * out.ln_spread));
  out.break_up_sd = std::sqrt(std::max(0.0, break_up2 / all - out.ln_break_up * out.ln_break_up));
  return out;
}

}  // namespace dryclock::models
