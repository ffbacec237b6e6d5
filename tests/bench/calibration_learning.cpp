// How fast a shop is learnt, and how well what it is told then holds.
#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <vector>

#include "calibration.hpp"
#include "models/evidence.hpp"
#include "models/shop_belief.hpp"
#include "stopwatch.hpp"

namespace dryclock::bench {

using namespace models;
using shop_truth::Bay;
using shop_truth::Draws;
using shop_truth::Shop;

namespace {

// What shops have taught after so many pieces.
struct Learnt {
  std::vector<double> errors5, errors10, floor, floor_of_looks;
  Tally after10, after20;
};

struct Habit {
  double eye = 0.0;         // ln of what these eyes call wet and clear against the usual; NaN: drawn
  double wrong_taps = 0.0;  // of all looks, at random
  bool off_by_two = true;   // its film and its hands, either way; else drawn as the rest
  double first_look = 0.5;  // when it is so likely that the edge's liquid is gone
  double spread = 0.0;      // of ln thickness within a zone; 0: drawn
  bool plate = false;       // strips on a clear plate are counted, in place of looks at the piece
};

// What somebody counts of a strip of which so much is wet, within a factor of its odds.
Sign counted(Draws& draws, double wet) {
  const double odds = std::log(std::max(wet, 1e-9) / std::max(1.0 - wet, 1e-9)) + 0.5 * draws.normal();
  const double share = 1.0 / (1.0 + std::exp(-odds));
  return share < 0.03   ? Sign::none_wet
         : share < 0.25 ? Sign::tenth_wet
         : share < 0.75 ? Sign::half_wet
                        : Sign::mostly_wet;
}

Sign seen(Draws& draws, double water, double wrong_taps) {
  constexpr std::array<Sign, 3> all{Sign::wet, Sign::hazy, Sign::clear};
  if (draws.uniform() < wrong_taps) return all[static_cast<std::size_t>(draws.uniform() * 3.0)];
  std::array<double, 3> chance{};
  double sum = 0.0;
  for (std::size_t k = 0; k < all.size(); ++k) {
    sum += chance[k] = sight(all[k], water, std::sqrt(0.3));
  }
  double at = draws.uniform() * sum;
  for (std::size_t k = 0; k < all.size(); ++k) {
    at -= chance[k];
    if (at <= 0.0) return all[k];
  }
  return all.back();
}

// A fitter looks when the edge's liquid is gone as likely as his habit has it, and goes on looking, half as
// long again after lay each time, until the edge looks clear.
void teach(ShopBelief& belief, Draws& draws, const Bay& bay, const Shop& shop, const ShopLevels& levels,
           double eye, const Habit& habit) {
  const shop_truth::TrueTimes times(bay);
  const auto piece = shop_truth::draw_piece(draws, shop, levels, bonnet);
  shop_truth::Expected expected(bay, bonnet);
  double at = std::min(expected.when(Milestone::liquid_gone, habit.first_look, belief.nodes("")) / hour,
                       0.5 * hours_ahead);
  std::vector<Look> looks;
  const int most_looks = habit.first_look < 0.5 ? 8 : 4;
  const double longer = habit.plate ? 1.3 : 1.5;
  // What he takes a zone for he takes it for again: 0.7 of the variance of a reading, 0.74 in ln of the
  // water.
  const std::array<double, 2> reading{std::sqrt(0.7) * 0.74 * draws.normal(),
                                      std::sqrt(0.7) * 0.74 * draws.normal()};
  for (int k = 0; k < most_looks && at < hours_ahead; ++k, at *= longer) {
    const auto look = [&](std::size_t zone) {
      if (habit.plate) {
        looks.push_back({zone, at * hour, counted(draws, times.wet(piece, shop, zone, Bay::point(at)))});
        return;
      }
      const double water = times.left(piece, shop, zone, Bay::point(at)) * std::exp(-eye - reading[zone]);
      looks.push_back({zone, at * hour, seen(draws, water, habit.wrong_taps)});
    };
    look(0);
    look(1);
    if (looks.back().sign == Sign::clear || looks.back().sign == Sign::none_wet) break;
  }
  belief.learn("", PieceLikelihood(evidence(expected.piece(), looks), levels).nodes());
}

// A shop whose film and hands are known, and how its water lies is not: no look at paint tells that.
std::vector<ShopNode> but_for_the_tail(const Shop& shop, const ShopLevels& levels) {
  std::vector<ShopNode> nodes;
  for (std::size_t w = 0; w < shop_worlds().size(); ++w) {
    nodes.push_back({shop_worlds()[w].weight, shop.film, shop.hand, w, levels.film_piece(), levels.zone()});
  }
  return nodes;
}

// How far one false "clear" of a wet edge moves the next piece's median, at most over so many shops that ten
// pieces have taught. [%]
double false_tap(const std::vector<Bay>& all, std::size_t shops) {
  const ShopLevels levels;
  Draws draws(seed + 4);
  double most = 0.0;
  for (std::size_t i = 0; i < shops; ++i) {
    const Shop shop = shop_truth::draw_shop(draws, levels);
    const Bay& bay = all[i % all.size()];
    ShopBelief belief(levels);
    for (int k = 0; k < 10; ++k) {
      teach(belief, draws, bay, shop, levels, 0.0, {.first_look = 0.1});
    }
    shop_truth::Expected next(bay, bonnet);
    const double before = next.when(Milestone::wrap_ready, 0.5, belief.nodes(""));
    const double early = next.when(Milestone::liquid_gone, 0.05, belief.nodes(""));
    belief.learn("", PieceLikelihood(evidence(next.piece(), {{1, early, Sign::clear}}), levels).nodes());
    most = std::max(most, std::abs(next.when(Milestone::wrap_ready, 0.5, belief.nodes("")) / before - 1.0));
  }
  return 100.0 * most;
}

Learnt learn(const std::vector<Bay>& all, std::size_t shops, const Habit& habit) {
  const ShopLevels levels;
  Draws draws(seed + 2);
  Learnt out;
  for (std::size_t i = 0; i < shops; ++i) {
    Shop shop = shop_truth::draw_shop(draws, levels);
    const double way = i % 2 == 0 ? 1.0 : -1.0;
    if (habit.off_by_two) shop.film = shop.hand = way * std::log(2.0);
    const WaterSpread told(habit.spread > 0.0 ? habit.spread : 0.4);
    if (habit.spread > 0.0) shop.water.spread = &told;
    const double eye = std::isnan(habit.eye) ? levels.eye * draws.normal() : habit.eye;
    ShopBelief belief(levels);
    const Bay& bay = all[i % all.size()];
    const shop_truth::TrueTimes times(bay);
    // The next piece if the shop were known: what is its own alone is left.
    std::vector<double> known;
    known.reserve(60);
    for (int k = 0; k < 60; ++k) {
      known.push_back(
          times.when(shop_truth::draw_piece(draws, shop, levels, bonnet), shop, Milestone::wrap_ready));
    }
    const double middle = median(known);
    const double by_looks =
        shop_truth::Expected(bay, bonnet).when(Milestone::wrap_ready, 0.5, but_for_the_tail(shop, levels));
    for (int taught = 1; taught <= 20; ++taught) {
      teach(belief, draws, bay, shop, levels, eye, habit);
      if (taught != 5 && taught != 10 && taught != 20) continue;
      shop_truth::Expected next(bay, bonnet);
      const auto nodes = belief.nodes("");
      const double early = next.when(Milestone::wrap_ready, 0.1, nodes),
                   likely = next.when(Milestone::wrap_ready, 0.5, nodes),
                   late = next.when(Milestone::wrap_ready, 0.9, nodes);
      for (const double time : known) {
        if (taught == 5) out.errors5.push_back(late_by(time, likely));
        if (taught == 5) out.floor.push_back(late_by(time, middle));
        if (taught == 5) out.floor_of_looks.push_back(late_by(time, by_looks));
        if (taught == 10) out.errors10.push_back(late_by(time, likely));
        if (taught == 10) out.after10.add(time, early, late);
        if (taught == 20) out.after20.add(time, early, late);
      }
    }
  }
  return out;
}

}  // namespace

void learning(const std::vector<Bay>& all) {
  const double unknown = std::numeric_limits<double>::quiet_NaN();
  const Learnt learnt = learn(all, 48, {.eye = unknown});
  figure("learn_floor", median(learnt.floor), "ln");
  figure("learn_error_5", median(learnt.errors5), "ln");
  figure("learn_error_10", median(learnt.errors10), "ln");
  figure("learn_coverage_10", learnt.after10.coverage(), "share");
  figure("learn_coverage_20", learnt.after20.coverage(), "share");
  figure("learn_floor_of_looks", median(learnt.floor_of_looks), "ln");
  const Learnt by_plate = learn(all, 48, {.eye = unknown, .first_look = 0.1, .plate = true});
  figure("learn_error_5_plate", median(by_plate.errors5), "ln");
  figure("learn_error_10_plate", median(by_plate.errors10), "ln");
  figure("learn_coverage_20_plate", by_plate.after20.coverage(), "share");
  Tally tail;
  for (const double spread : {0.25, 0.5, 0.75}) {
    const Tally one =
        learn(all, 16, {.eye = unknown, .off_by_two = false, .first_look = 0.1, .spread = spread}).after20;
    tail.held += one.held;
    tail.came += one.came;
    tail.count += one.count;
  }
  figure("tail_coverage", tail.coverage(), "share");
  figure("tail_announced", tail.came_true(), "share");
  figure("false_tap", false_tap(all, 12), "%");
  const Learnt followed = learn(all, 48, {.eye = unknown, .first_look = 0.1});
  figure("learn_error_5_followed", median(followed.errors5), "ln");
  figure("learn_error_10_followed", median(followed.errors10), "ln");
  figure("learn_coverage_20_followed", followed.after20.coverage(), "share");
  const Learnt drawn = learn(all, 48, {.eye = unknown, .off_by_two = false});
  figure("learn_error_10_drawn", median(drawn.errors10), "ln");
  figure("learn_floor_drawn", median(drawn.floor), "ln");
  figure("learn_coverage_20_drawn", drawn.after20.coverage(), "share");
  const Learnt generous = learn(all, 48, {.eye = std::log(2.0)});
  figure("learn_coverage_20_eye_off", generous.after20.coverage(), "share");
  const Learnt wrong = learn(all, 48, {.eye = unknown, .wrong_taps = 0.1});
  figure("learn_coverage_20_wrong_taps", wrong.after20.coverage(), "share");
}

}  // namespace dryclock::bench
