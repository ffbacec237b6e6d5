#include "models/shop_belief.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <iostream>
#include <limits>
#include <vector>

#include "drying_cases.hpp"
#include "shop_truth.hpp"

using namespace dryclock::models;
using namespace drying_cases;

namespace {

constexpr double hour = 3600.0;
constexpr double quarter = 900.0;

struct Air {
  CourseTrace trace;
  FilmModes modes;
  Lanes log_factor{};
};

Air steady(double hours) {
  const Surroundings bay = air(20.0, 0.5);
  CourseSpec spec;
  spec.stack = baseline();
  spec.panel_at_lay = bay.air;
  Air out;
  Lanes factor{};
  for (std::size_t m = 0; m < members; ++m) {
    out.log_factor[m] = -1.6 + 3.2 * static_cast<double>(m) / static_cast<double>(members - 1);
    factor[m] = std::exp(out.log_factor[m]);
  }
  FilmCourse course(spec, factor, bay);
  out.trace.add(course.now());
  for (double at = 0.0; at < hours * hour; at += quarter) {
    course.advance(bay, bay, Seconds{quarter});
    out.trace.add(course.now());
  }
  out.modes = course.modes();
  return out;
}

const Margin usual_margin{
    .width = 0.005, .openness = 0.1, .opened = 1.0, .opened_at = std::numeric_limits<double>::infinity()};
const std::vector<ZoneWater> bonnet{{ZoneKind::field, 1.0, {}}, {ZoneKind::edge, 3.5, usual_margin}};

std::size_t at_hour(double hours) {
  return static_cast<std::size_t>(hours * 4.0);
}

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
  double film2 = 0.0;
  for (const ShopNode& node : nodes) film2 += node.weight * node.film * node.film;
  CHECK(std::sqrt(film2) == about(levels.film, 0.01));
}

// Drawn shops instead of a lattice: each with a piece that is looked at and one to come, weighed by how
// likely the looks are at the first. A weighted median of so many draws is good to about 3 %.
class Drawn {
 public:
  Drawn(const Air& bay, std::size_t count) : bay_(bay) {
    const shop_truth::TrueTimes times(bay.trace, bay.modes, bay.log_factor);
    shop_truth::Draws random(7);
    for (std::size_t i = 0; i < count; ++i) {
      ShopLevels levels;
      const double share = random.uniform();
      levels.hand_share = share < 0.25 ? hand_shares[0] : share < 0.75 ? hand_shares[1] : hand_shares[2];
      One one;
      one.shop = shop_truth::draw_shop(random, levels);
      one.eye = levels.eye * random.normal();
      one.reading = random.normal();
      one.seen = shop_truth::draw_piece(random, one.shop, levels, bonnet);
      const auto next = shop_truth::draw_piece(random, one.shop, levels, bonnet);
      one.log_hours = std::log(times.when(next, one.shop, Step::wrap) / hour);
      all_.push_back(one);
    }
  }

  // ln of the median of the next piece's hours until its wrap.
  [[nodiscard]] double median_after(const std::vector<Look>& looks) const {
    std::vector<std::pair<double, double>> weighed;
    double sum = 0.0;
    for (const One& one : all_) {
      weighed.emplace_back(one.log_hours, chance(one, looks));
      sum += weighed.back().second;
    }
    std::sort(weighed.begin(), weighed.end());
    double so_far = 0.0;
    for (const auto& [log_hours, weight] : weighed) {
      so_far += weight;
      if (so_far >= 0.5 * sum) return log_hours;
    }
    return 0.0;
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
      Margin margin = bonnet[look.zone].margin;
      margin.width /= one.shop.margin_speed;
      const double place =
          (one.seen.log_factor - bay_.log_factor[0]) / (bay_.log_factor[1] - bay_.log_factor[0]);
      const auto lane = static_cast<std::size_t>(std::clamp(place + 0.5, 0.0, members - 1.0));
      const double left =
          margin.left(bay_.trace[look.point].front_squared) *
          WaterSpread::left(one.shop.water.spread->sigma(), std::exp(one.seen.log_water[look.zone]),
                            bay_.trace[look.point].drunk[lane], one.shop.water.break_up);
      all *= sight(look.finding, left * std::exp(-off), blur);
    }
    return all;
  }

  const Air& bay_;
  std::vector<One> all_;
};

double median_after(const Air& bay, const std::vector<Look>& looks) {
  const ShopLevels levels;
  ShopBelief belief(levels);
  if (!looks.empty()) {
    belief.learn("a film", PieceLikelihood(bay.trace, bay.log_factor, bonnet, looks, levels));
  }
  PieceOutlook next(bay.trace, bay.modes, bay.log_factor, bonnet, levels);
  return std::log(next.when(Step::wrap, 0.5, belief.nodes("a film")) / hour);
}

TEST_CASE("the lattice says of the next piece what shops say that are drawn and weighed") {
  const Air bay = steady(96.0);
  const Drawn drawn(bay, 4000);
  for (const auto& looks : std::vector<std::vector<Look>>{{},
                                                          {{1, at_hour(14.0), Finding::wet}},
                                                          {{1, at_hour(2.0), Finding::clear}},
                                                          {{1, at_hour(4.0), Finding::hazy}},
                                                          {{1, at_hour(3.0), Finding::wet},
                                                           {1, at_hour(6.0), Finding::hazy},
                                                           {1, at_hour(9.0), Finding::clear}},
                                                          {{1, at_hour(1.0), Finding::clear},
                                                           {1, at_hour(1.25), Finding::clear},
                                                           {1, at_hour(1.5), Finding::clear}}}) {
    const double by_lattice = median_after(bay, looks), by_draws = drawn.median_after(looks);
    CAPTURE(looks.size());
    std::cout << looks.size() << " looks: lattice " << std::exp(by_lattice) << " h, draws "
              << std::exp(by_draws) << " h\n";
    CHECK(std::abs(by_lattice - by_draws) < 0.06);
  }
}

TEST_CASE("the same tap again within ten minutes is the same look") {
  const Air bay = steady(48.0);
  const Look look{1, at_hour(3.0), Finding::clear};
  CHECK(median_after(bay, {look, look}) == doctest::Approx(median_after(bay, {look})).epsilon(1e-12));
}

TEST_CASE("another film is laid by the same hands: part of what was seen holds there too") {
  const Air bay = steady(48.0);
  const ShopLevels levels;
  ShopBelief belief(levels);
  belief.learn("a film", PieceLikelihood(bay.trace, bay.log_factor, bonnet,
                                         {{1, at_hour(14.0), Finding::wet}}, levels));
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
