#include "models/coupon_tail.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <random>
#include <vector>

#include "drying_cases.hpp"
#include "models/normal.hpp"
#include "models/shop_levels.hpp"

using namespace dryclock::models;
using namespace drying_cases;

namespace {

constexpr double area = 0.09;

struct Truth {
  double spread = 0.4, break_up = 0.5;
  double water = 9.0;       // g/m2, where 10 was told
  double resistance = 1.1;  // of the catalogue's
};

// Two days of weighings, one an hour: the film over two hundred columns of the layer, a zone each, none of
// the tables that the coupon is evaluated with.
CouponTest weighed(const Truth& truth, double hours = 48.0) {
  constexpr std::size_t zones = 25, columns = zones * members;
  const Surroundings bay = air(21.0, 0.5);
  const FilmModes modes = film_modes(baseline(), still_bay, bay.air);
  const Instant now = instant(modes, bay.air, bay.air, bay.humidity, still_bay);
  const WaterLayer layer{GramsPerSquareMetre{truth.break_up}, GramsPerSquareMetre{1e-3}};
  std::vector<Zone> all;
  for (std::size_t z = 0; z < zones; ++z) {
    Lanes h{};
    for (std::size_t m = 0; m < members; ++m) {
      const double share = (static_cast<double>(z * members + m) + 0.5) / columns;
      h[m] =
          truth.water * std::exp(truth.spread * normal_quantile(share) - 0.5 * truth.spread * truth.spread);
    }
    all.emplace_back(modes, layer, h, 0.0, now.activity, 0.0);
  }
  ThermalStep step;
  prepare(step, modes, ZoneRun::all(truth.resistance), now, now, now, minute);
  CouponTest test;
  test.area_m2 = area;
  const int minutes = static_cast<int>(hours * 60.0);
  for (int at = 0; at <= minutes; ++at) {
    test.air.push_back({Seconds{at * minute}, bay.air, bay.humidity});
    if (at % 60 == 0) {
      double held = 0.0;
      for (const Zone& zone : all) {
        const Lanes left = zone.water(), excess = zone.excess(modes);
        for (std::size_t m = 0; m < members; ++m) {
          held += (left[m] + excess[m]) / columns;
        }
      }
      test.weighings.push_back({Seconds{at * minute}, 812.4 + area * held});
    }
    for (Zone& zone : all) {
      zone.advance(modes, step, 0.0, 0.0, 0.0);
    }
  }
  return test;
}

std::vector<TailPoint> tail_of(const CouponTest& test) {
  return evaluate_tail(test, baseline(), evaluate(test)).points;
}

double resistance_of(const FilmStack& stack) {
  double sum = 0.0;
  for (const Layer& layer : stack.layers) {
    sum += layer.thickness.value() / layer.permeability.value();
  }
  return sum;
}

const TailPoint& likeliest(const std::vector<TailPoint>& tail) {
  return *std::ranges::max_element(tail, {}, &TailPoint::likelihood);
}

double of_worlds(std::size_t axis, double sign) {
  // The ends of spread and break-up that a shop is weighed with: sqrt(3) standard deviations.
  const double far = std::sqrt(3.0) * sign;
  return axis == 0 ? 0.4 * std::exp(0.4 * far) : 0.5 * std::exp(0.7 * far);
}

}  // namespace

TEST_SUITE_BEGIN("coupon");

TEST_CASE("weighed to its end a coupon shows how its water lay") {
  for (const Truth& truth : {Truth{of_worlds(0, -1.0), 0.5}, Truth{0.4, 0.5}, Truth{of_worlds(0, 1.0), 0.5},
                             Truth{0.4, of_worlds(1, 1.0)}}) {
    CAPTURE(truth.spread);
    CAPTURE(truth.break_up);
    const auto tail = tail_of(weighed(truth));
    REQUIRE(tail.size() == 9);
    CHECK(likeliest(tail).spread == about(truth.spread, 1e-9));
    CHECK(likeliest(tail).likelihood == 1.0);
    // Patches hold f(U) w_c^2/2 more than an end without them, f the density of thickness: 2 mg with 0.5 g/m2
    // and 14 mg with 1.7, where the spread is 0.4. A balance of 10 mg does not tell them apart.
    for (const TailPoint& point : tail) {
      if (point.spread == likeliest(tail).spread && point.break_up < 1.0 && truth.break_up < 1.0) {
        CHECK(point.likelihood > 0.7);
      } else if (point.spread != likeliest(tail).spread) {
        CHECK(point.likelihood < 0.2);
      }
    }
  }
}

// A shop whose pieces are not like its coupon is not ruled out: a tenth, against the likeliest.
// The line runs down to a quarter of the water, when a layer of spread 0.8 is dry over more than a third: it
// gives half as much again and more. The fit knows.
TEST_CASE("what the straight line says too much of the resistance is taken off") {
  for (const double sign : {-1.0, 0.0, 1.0}) {
    const Truth truth{of_worlds(0, sign), 0.5};
    CAPTURE(truth.spread);
    const auto test = weighed(truth);
    const auto line = evaluate(test);
    REQUIRE(line.problem == CouponProblem::none);
    const auto tail = evaluate_tail(test, baseline(), line);
    REQUIRE_FALSE(tail.points.empty());
    const double true_resistance = truth.resistance * resistance_of(baseline());
    CHECK(line.resistance.value() * std::exp(tail.ln_resistance) == about(true_resistance, 0.03));
    CHECK(tail.resistance_sd < 0.1);
    if (sign > 0.0) CHECK(line.resistance.value() > 1.3 * true_resistance);
  }
}

TEST_CASE("no way that water may lie is given up for one coupon") {
  const auto tail = tail_of(weighed({of_worlds(0, 1.0), 0.5}));
  REQUIRE(tail.size() == 9);
  for (const TailPoint& point : tail) {
    CHECK(point.likelihood >= 0.1);
  }
  CHECK(std::ranges::min_element(tail, {}, &TailPoint::likelihood)->likelihood ==
        doctest::Approx(0.1).epsilon(0.01));
}

TEST_CASE("with a balance's scatter the estimates still hold the truth") {
  std::mt19937_64 random{11};
  std::normal_distribution<double> normal;
  const auto exact = weighed({of_worlds(0, -1.0), 0.5});
  int held = 0;
  constexpr int tries = 8;
  for (int i = 0; i < tries; ++i) {
    auto test = exact;
    for (auto& one : test.weighings) {
      one.grams += 0.01 * normal(random);
    }
    const auto tail = tail_of(test);
    REQUIRE_FALSE(tail.empty());
    const WaterLies lies = water_lies(tail);
    held += std::abs(lies.ln_spread - std::log(of_worlds(0, -1.0))) < 2.0 * lies.spread_sd;
    CHECK(lies.ln_spread < std::log(0.4));
  }
  CHECK(held >= tries - 1);
}

// 0.4 within ln 0.4, 0.5 within ln 0.7: what is thought of any shop.
TEST_CASE("weighings that say nothing leave what is thought usual") {
  auto test = weighed({});
  const auto result = evaluate(test);
  test.balance_grams = 100.0;
  const auto tail = evaluate_tail(test, baseline(), result).points;
  REQUIRE(tail.size() == 9);
  for (const WaterLies& lies : {water_lies(tail), water_lies({})}) {
    CHECK(lies.ln_spread == doctest::Approx(std::log(0.4)).epsilon(1e-3));
    CHECK(lies.spread_sd == about(0.4, 1e-3));
    CHECK(lies.ln_break_up == doctest::Approx(std::log(0.5)).epsilon(1e-3));
    CHECK(lies.break_up_sd == about(0.7, 1e-3));
  }
}

TEST_CASE("weighings that scatter more than the balance say less") {
  auto test = weighed({of_worlds(0, 1.0), 0.5});
  const auto steady = tail_of(test);
  double sign = 1.0;  // up and down in turn: no way that water may lie looks like that
  for (auto& one : test.weighings) {
    one.grams += 0.1 * sign;
    sign = -sign;
  }
  const auto shaky = tail_of(test);
  REQUIRE(shaky.size() == steady.size());
  // What steady weighings speak against is less unlikely. (The ways' standard deviation says nothing of it:
  // it is the larger, the nearer to even two of nine ways are.)
  for (std::size_t i = 0; i < shaky.size(); ++i) {
    if (steady[i].likelihood < 0.5) CHECK(shaky[i].likelihood > steady[i].likelihood);
  }
}

TEST_CASE("an end that was not seen is not told") {
  const auto whole = weighed({});
  REQUIRE_FALSE(tail_of(whole).empty());

  // 0.9 g, of which 0.675 g may go before the last quarter.
  auto early = whole;
  const auto after = std::ranges::find_if(early.weighings, [&](const Weighing& one) {
    return one.grams < whole.weighings.front().grams - 0.675;
  });
  early.weighings.erase(after + 2, early.weighings.end());
  CHECK(tail_of(early).empty());
  early.weighings.push_back(whole.weighings[early.weighings.size()]);
  CHECK_FALSE(tail_of(early).empty());

  CHECK(evaluate_tail(whole, {}, evaluate(whole)).points.empty());
  CHECK(evaluate_tail({}, baseline(), evaluate({})).points.empty());
  auto late = whole;
  late.air.erase(late.air.begin(), late.air.begin() + 11);
  CHECK(tail_of(late).empty());
}

TEST_CASE("each way that a shop's water may lie takes the likelihood of its own point") {
  const auto tail = tail_of(weighed({of_worlds(0, 1.0), 0.5}));
  const auto likelihoods = world_likelihoods(tail);
  REQUIRE(likelihoods.size() == shop_worlds().size());
  for (std::size_t w = 0; w < likelihoods.size(); ++w) {
    const auto& water = shop_worlds()[w].water;
    const auto own = std::ranges::find_if(tail, [&](const TailPoint& point) {
      return point.spread == water.spread->sigma() && point.break_up == water.break_up;
    });
    REQUIRE(own != tail.end());
    CHECK(likelihoods[w] == own->likelihood);
  }
  CHECK(world_likelihoods({}).empty());
}

TEST_SUITE_END();
