#include "models/shop_belief.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <vector>

#include "drying_cases.hpp"
#include "steady_bay.hpp"

using namespace dryclock::models;
using namespace drying_cases;
using shop_truth::Bay;

namespace {

double total(const std::vector<ShopNode>& nodes) {
  double sum = 0.0;
  for (const ShopNode& node : nodes) sum += node.weight;
  return sum;
}
double mean_hand(const std::vector<ShopNode>& nodes) {
  double sum = 0.0;
  for (const ShopNode& node : nodes) sum += node.weight * node.hand;
  return sum;
}

}  // namespace

TEST_SUITE_BEGIN("belief");

TEST_CASE("before anything was seen the nodes are the prior's") {
  const ShopLevels levels;
  const auto nodes = ShopBelief(levels).nodes("a film");
  CHECK(total(nodes) == about(1.0, 1e-12));
  CHECK(std::abs(mean_hand(nodes)) < 1e-9);
}

// Drawn shops instead of a lattice: each with a piece that is looked at and one to come, weighed by how
// likely the looks are at the first. A weighted median of so many draws is good to about 3 %.
class Drawn {
 public:
  Drawn(const Bay& bay, std::size_t count) : times_(bay) {
    shop_truth::Draws random(7);
    for (std::size_t i = 0; i < count; ++i) {
      const auto [levels, shop] = shop_truth::draw_any_shop(random, {});
      One one;
      one.shop = shop;
      one.eye = levels.eye * random.normal();
      one.reading = random.normal();
      one.seen = shop_truth::draw_piece(random, one.shop, levels, bonnet);
      const auto next = shop_truth::draw_piece(random, one.shop, levels, bonnet);
      one.log_hours = std::log(times_.when(next, one.shop, Milestone::wrap_ready) / hour);
      all_.push_back(one);
    }
  }

  // ln of the median of the next piece's hours until its wrap, and how far chance moves that: the usual
  // standard error of a median, sqrt(pi/2) sd/sqrt(n), n the effective number of draws that the weights
  // leave.
  struct Median {
    double log_hours = 0.0, standard_error = 0.0;
  };
  [[nodiscard]] Median median_after(const std::vector<Look>& looks) const {
    std::vector<std::pair<double, double>> weighed;
    double sum = 0.0, squares = 0.0, mean = 0.0, mean2 = 0.0;
    for (const One& one : all_) {
      const double weight = chance(one, looks);
      weighed.emplace_back(one.log_hours, weight);
      sum += weight;
      squares += weight * weight;
      mean += weight * one.log_hours;
      mean2 += weight * one.log_hours * one.log_hours;
    }
    std::sort(weighed.begin(), weighed.end());
    const double variance = mean2 / sum - mean * mean / (sum * sum);
    const double standard_error = std::sqrt(std::numbers::pi / 2.0 * variance * squares) / sum;
    double so_far = 0.0;
    for (const auto& [log_hours, weight] : weighed) {
      so_far += weight;
      if (so_far >= 0.5 * sum) return {log_hours, standard_error};
    }
    return {};
  }

 private:
  struct One {
    shop_truth::Shop shop;
    shop_truth::TruePiece seen;
    double eye = 0.0, reading = 0.0, log_hours = 0.0;
  };

  [[nodiscard]] double chance(const One& one, const std::vector<Look>& looks) const {
    // Later looks share 0.7 of the blur's variance, 0.74 in ln of the water.
    const bool alone = looks.size() == 1;
    const double off = one.eye + (alone ? 0.0 : 0.74 * std::sqrt(0.7) * one.reading);
    const double blur = alone ? 1.0 : std::sqrt(0.3);
    double all = 1.0;
    for (const Look& look : looks) {
      const std::size_t point = Bay::point(look.seconds / hour);
      if (sort_of(look.sign) != SignSort::eye) {
        all *= share_sight(look.sign, times_.wet_share(one.seen, one.shop, look.zone, point));
        continue;
      }
      const double left = times_.left(one.seen, one.shop, look.zone, point);
      all *= sight(look.sign, left * std::exp(-off), blur);
    }
    return all;
  }

  shop_truth::TrueTimes times_;
  std::vector<One> all_;
};

double median_after(const Bay& bay, const std::vector<Look>& looks) {
  const ShopLevels levels;
  ShopBelief belief(levels);
  shop_truth::Expected next(bay, bonnet);
  if (!looks.empty()) belief.learn("a film", PieceLikelihood(evidence(next.piece(), looks), levels).nodes());
  return std::log(next.when(Milestone::wrap_ready, 0.5, belief.nodes("a film")) / hour);
}

TEST_CASE("the lattice says of the next piece what shops say that are drawn and weighed") {
  const Bay bay = steady(96.0);
  const Drawn drawn(bay, 4000);
  for (const auto& looks : std::vector<std::vector<Look>>{
           {},
           {{1, 14.0 * hour, Sign::wet}},
           {{1, 2.0 * hour, Sign::clear}},
           {{1, 4.0 * hour, Sign::hazy}},
           {{1, 3.0 * hour, Sign::wet}, {1, 6.0 * hour, Sign::hazy}, {1, 9.0 * hour, Sign::clear}},
           {{1, 1.0 * hour, Sign::clear}, {1, 1.25 * hour, Sign::clear}, {1, 1.5 * hour, Sign::clear}}}) {
    const double by_lattice = median_after(bay, looks);
    const auto by_draws = drawn.median_after(looks);
    const double quarter_hour =
        std::log1p(0.25 / std::exp(by_draws.log_hours));  // draws end at points of the trace
    CAPTURE(looks.size());
    CHECK(std::abs(by_lattice - by_draws.log_hours) < quarter_hour + 3.0 * by_draws.standard_error);
    CHECK(by_draws.standard_error < 0.12);
  }
}

TEST_CASE("the same tap again within ten minutes is the same look") {
  const Bay bay = steady(48.0);
  const Look look{1, 3.0 * hour, Sign::clear};
  CHECK(median_after(bay, {look, look}) == doctest::Approx(median_after(bay, {look})).epsilon(1e-12));
}

TEST_CASE("another film is laid by the same hands: part of what was seen holds there too") {
  const Bay bay = steady(48.0);
  const ShopLevels levels;
  ShopBelief belief(levels);
  belief.learn("a film",
               PieceLikelihood(evidence(bay.lay(bonnet), {{1, 14.0 * hour, Sign::wet}}), levels).nodes());
  const auto film = [&](const std::string& key) {
    double sum = 0.0;
    for (const ShopNode& node : belief.nodes(key)) sum += node.weight * node.film;
    return sum;
  };
  CHECK(mean_hand(belief.nodes("another film")) == about(mean_hand(belief.nodes("a film")), 1e-6));
  CHECK(mean_hand(belief.nodes("another film")) > 0.0);
  CHECK(std::abs(film("another film")) < 1e-9);
  CHECK(film("a film") > 0.0);
}

TEST_CASE("a coupon leaves little unknown of its own film, and another's stays as it was") {
  ShopBelief belief({});
  belief.set_spread("measured", 0.12);
  CHECK(belief.levels("measured").film == 0.12);
  CHECK(belief.levels("another").film == ShopLevels{}.film);
  const auto spread = [&](const std::string& key) {
    double sum = 0.0;
    for (const ShopNode& node : belief.nodes(key)) {
      sum += node.weight * (node.film * node.film + node.film_piece * node.film_piece);
    }
    return std::sqrt(sum);
  };
  CHECK(spread("measured") < 0.15);
  CHECK(spread("another") > 0.25);
}

TEST_CASE("node by node the films of one shop are the same share of the same world") {
  const Bay bay = steady(48.0);
  const ShopLevels levels;
  ShopBelief belief(levels);
  belief.learn("a film",
               PieceLikelihood(evidence(bay.lay(bonnet), {{1, 14.0 * hour, Sign::wet}}), levels).nodes());
  belief.set_spread("measured", 0.12);
  const auto one = belief.nodes("a film"), other = belief.nodes("another film"),
             measured = belief.nodes("measured");
  REQUIRE(one.size() == other.size());
  REQUIRE(one.size() == measured.size());
  for (std::size_t n = 0; n < one.size(); ++n) {
    CHECK(one[n].world == other[n].world);
    CHECK(std::abs(one[n].weight - other[n].weight) < 1e-12);
    CHECK(std::abs(one[n].weight - measured[n].weight) < 1e-12);
  }
}

TEST_CASE("a likelihood that is nowhere positive says nothing") {
  ShopBelief belief({});
  const double before = mean_hand(belief.nodes("a film"));
  const Bay bay = steady(1.0);
  const std::size_t size = PieceLikelihood(evidence(bay.lay(bonnet), {}), {}).nodes().size();
  belief.learn("a film", std::vector<double>(size, 0.0));
  CHECK(mean_hand(belief.nodes("a film")) == before);
}

TEST_CASE("a coupon weighs the ways that water may lie and films bond, and nothing else") {
  const ShopLevels levels;
  const auto by_world = [](const std::vector<ShopNode>& nodes) {
    std::vector<double> weights(shop_worlds().size(), 0.0);
    for (const ShopNode& node : nodes) weights[node.world] += node.weight;
    return weights;
  };
  std::vector<double> likelihoods(shop_worlds().size(), 0.5);
  likelihoods[4] = 1.0;
  ShopBelief belief(levels);
  belief.weigh_worlds(likelihoods);
  const auto weighed = by_world(belief.nodes("a film"));
  double sum = 0.0;
  for (std::size_t w = 0; w < likelihoods.size(); ++w) sum += shop_worlds()[w].weight * likelihoods[w];
  for (std::size_t w = 0; w < likelihoods.size(); ++w) {
    CHECK(weighed[w] == about(shop_worlds()[w].weight * likelihoods[w] / sum, 1e-9));
  }
  CHECK(std::abs(mean_hand(belief.nodes("a film"))) < 1e-9);

  belief.weigh_worlds(likelihoods);  // another coupon that says the same
  const auto twice = by_world(belief.nodes("a film"));
  CHECK(twice[4] / twice[5] == about(2.0 * weighed[4] / weighed[5], 1e-9));

  belief.weigh_worlds({});
  belief.weigh_worlds(std::vector<double>(likelihoods.size(), 0.0));
  CHECK(by_world(belief.nodes("a film")) == twice);
}
