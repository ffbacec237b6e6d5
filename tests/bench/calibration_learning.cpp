// How fast a shop is learnt, and how well what it is told then holds.
#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <limits>
#include <string>
#include <vector>

#include "calibration.hpp"
#include "ideal_observer.hpp"
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
constexpr std::array<int, 3> lessons{5, 10, 20};
struct Learnt {
  std::array<std::vector<double>, lessons.size()> errors;
  std::array<Tally, lessons.size()> told;
  std::vector<double> floor, floor_of_looks;
  // After ten pieces, of somebody who weighs the same looks without a lattice, and who knows all of the shop
  // but film and hands besides.
  std::vector<double> ideal, ideal_told;
};

// What a shop's film and hands are.
enum class Truth { doubled, halved, drawn };

struct Habit {
  double eye = 0.0;         // ln of what these eyes call wet and clear against the usual; NaN: drawn
  double wrong_taps = 0.0;  // of all looks, at random
  Truth truth = Truth::doubled;
  double first_look = 0.1;     // when it is so likely that the edge's liquid is gone
  std::size_t most_looks = 8;  // at one piece
  double spread = 0.0;         // of ln thickness within a zone; 0: drawn
  bool spread_known = false;   // is told, as by a coupon that was weighed until it was dry
  std::size_t ideal = 0;       // shops that the ideal observer draws; 0: nobody observes
  bool plate = false;          // strips on a clear plate are counted, in place of looks at the piece
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
PieceEvidence teach(ShopBelief& belief, Draws& draws, const Bay& bay, const Shop& shop,
                    const ShopLevels& levels, double eye, const Habit& habit) {
  const shop_truth::TrueTimes times(bay);
  const auto piece = shop_truth::draw_piece(draws, shop, levels, bonnet);
  shop_truth::Expected expected(bay, bonnet);
  double at = std::min(expected.when(Milestone::liquid_gone, habit.first_look, belief.nodes("")) / hour,
                       0.5 * hours_ahead);
  std::vector<Look> looks;
  const double longer = habit.plate ? 1.3 : 1.5;
  // What he takes a zone for he takes it for again: 0.7 of the variance of a reading, 0.74 in ln of the
  // water.
  const std::array<double, 2> reading{std::sqrt(0.7) * 0.74 * draws.normal(),
                                      std::sqrt(0.7) * 0.74 * draws.normal()};
  for (std::size_t k = 0; k < habit.most_looks && at < hours_ahead; ++k, at *= longer) {
    at = std::max(Bay::quarter / hour, std::round(at * hour / Bay::quarter) * Bay::quarter / hour);
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
  PieceEvidence all = evidence(expected.piece(), looks);
  belief.learn("", PieceLikelihood(all, levels).nodes());
  return all;
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
      teach(belief, draws, bay, shop, levels, 0.0, {});
    }
    shop_truth::Expected next(bay, bonnet);
    const double before = next.when(Milestone::wrap_ready, 0.5, belief.nodes(""));
    const double early = next.when(Milestone::liquid_gone, 0.05, belief.nodes(""));
    belief.learn("", PieceLikelihood(evidence(next.piece(), {{1, early, Sign::clear}}), levels).nodes());
    most = std::max(most, std::abs(next.when(Milestone::wrap_ready, 0.5, belief.nodes("")) / before - 1.0));
  }
  return 100.0 * most;
}

// Only the ways whose spread is the one nearest.
std::vector<double> only_spread(double spread) {
  const auto off = [&](const ShopWorld& world) {
    return std::abs(std::log(world.water.spread->sigma() / spread));
  };
  const double nearest = off(*std::ranges::min_element(shop_worlds(), {}, off));
  std::vector<double> likelihoods;
  for (const ShopWorld& world : shop_worlds()) {
    likelihoods.push_back(off(world) > nearest ? 0.0 : 1.0);
  }
  return likelihoods;
}

// The next piece if the shop were known: what is its own alone is left.
std::vector<double> next_pieces(Draws& draws, const Bay& bay, const Shop& shop, const ShopLevels& levels) {
  const shop_truth::TrueTimes times(bay);
  std::vector<double> known;
  known.reserve(60);
  for (int k = 0; k < 60; ++k) {
    known.push_back(
        times.when(shop_truth::draw_piece(draws, shop, levels, bonnet), shop, Milestone::wrap_ready));
  }
  return known;
}

// The same shops and pieces whatever the habit: each has its own numbers to be drawn by.
Learnt learn(const std::vector<Bay>& all, std::size_t shops, const Habit& habit) {
  const ShopLevels levels;
  Learnt out;
  for (std::size_t i = 0; i < shops; ++i) {
    const auto own_seed = seed + 1000 * (1 + static_cast<std::uint32_t>(i));
    Draws draws(own_seed);
    Shop shop = shop_truth::draw_shop(draws, levels);
    if (habit.truth != Truth::drawn) {
      shop.film = shop.hand = std::log(habit.truth == Truth::doubled ? 2.0 : 0.5);
    }
    const WaterSpread told(habit.spread > 0.0 ? habit.spread : 0.4);
    if (habit.spread > 0.0) shop.water.spread = &told;
    const double drawn_eye = levels.eye * draws.normal();
    const double eye = std::isnan(habit.eye) ? drawn_eye : habit.eye;
    ShopBelief belief(levels);
    if (habit.spread_known) belief.weigh_worlds(only_spread(habit.spread));
    const Bay& bay = all[i % all.size()];
    const auto known = next_pieces(draws, bay, shop, levels);
    const double middle = median(known);
    const double by_looks =
        shop_truth::Expected(bay, bonnet).when(Milestone::wrap_ready, 0.5, but_for_the_tail(shop, levels));
    for (const double time : known) {
      out.floor.push_back(late_by(time, middle));
      out.floor_of_looks.push_back(late_by(time, by_looks));
    }
    IdealObserver ideal(own_seed, habit.ideal), ideal_told(own_seed, habit.ideal);
    ideal_told.tell(shop, eye);
    int taught = 0;
    for (std::size_t k = 0; k < lessons.size(); ++k) {
      while (taught < lessons[k]) {
        Draws piece(own_seed + static_cast<std::uint32_t>(++taught));
        const PieceEvidence seen = teach(belief, piece, bay, shop, levels, eye, habit);
        if (habit.ideal == 0 || taught > 10) continue;
        ideal.learn(seen);
        ideal_told.learn(seen);
      }
      if (habit.ideal > 0 && taught == 10) {
        const shop_truth::TrueTimes times(bay);
        const double by_all = ideal.next(times), by_told = ideal_told.next(times);
        for (const double time : known) {
          out.ideal.push_back(late_by(time, by_all));
          out.ideal_told.push_back(late_by(time, by_told));
        }
      }
      shop_truth::Expected next(bay, bonnet);
      const auto nodes = belief.nodes("");
      const double early = next.when(Milestone::wrap_ready, 0.1, nodes),
                   likely = next.when(Milestone::wrap_ready, 0.5, nodes),
                   late = next.when(Milestone::wrap_ready, 0.9, nodes);
      for (const double time : known) {
        out.errors[k].push_back(late_by(time, likely));
        out.told[k].add(time, early, late);
      }
    }
  }
  return out;
}

// How often sixteen pieces left within what was told of them, in shops that ten pieces have taught and whose
// pieces share half of what the levels call common.
double half_shared_release(const std::vector<Bay>& all, std::size_t shops) {
  constexpr int pieces = 16;
  const ShopLevels levels;
  Draws draws(seed + 5);
  Tally tally;
  for (std::size_t i = 0; i < shops; ++i) {
    const Bay& bay = all[i % all.size()];
    const shop_truth::TrueTimes times(bay);
    const Shop common = shop_truth::draw_shop(draws, levels);
    const double eye = levels.eye * draws.normal();
    ShopBelief belief(levels);
    for (int k = 0; k < 10; ++k) {
      teach(belief, draws, bay, partly_shared(draws, common, levels, 0.5), levels, eye, {});
    }
    shop_truth::Expected outlook(bay, bonnet);
    const auto nodes = belief.nodes("");
    const double early = when_all(outlook, pieces, 0.1, nodes), late = when_all(outlook, pieces, 0.9, nodes);
    for (int vehicle = 0; vehicle < 20; ++vehicle) {
      double last = 0.0;
      for (int k = 0; k < pieces; ++k) {
        const Shop shop = partly_shared(draws, common, levels, 0.5);
        last = std::max(last, times.when(shop_truth::draw_piece(draws, shop, levels, bonnet), shop,
                                         Milestone::may_leave));
      }
      tally.add(last, early, late);
    }
  }
  return tally.coverage();
}

void print(const std::string& of, const Learnt& learnt) {
  figure(("learn_floor" + of).c_str(), median(learnt.floor), "ln");
  for (std::size_t k = 0; k < lessons.size(); ++k) {
    const std::string after = "_" + std::to_string(lessons[k]) + of;
    figure(("learn_error" + after).c_str(), median(learnt.errors[k]), "ln");
    figure(("learn_coverage" + after).c_str(), learnt.told[k].coverage(), "share");
  }
}

}  // namespace

void learning(const std::vector<Bay>& all) {
  const double unknown = std::numeric_limits<double>::quiet_NaN();
  const Learnt doubled = learn(all, 48, {.eye = unknown});
  print("", doubled);
  figure("learn_floor_of_looks", median(doubled.floor_of_looks), "ln");
  const Learnt wrong = learn(all, 48, {.eye = unknown, .wrong_taps = 0.1});
  print("_wrong_taps", wrong);
  figure("wrong_taps_cost_20", doubled.told.back().coverage() - wrong.told.back().coverage(), "share");
  print("_eye_off", learn(all, 48, {.eye = std::log(2.0)}));
  print("_eye_off_drawn", learn(all, 48, {.eye = std::log(2.0), .truth = Truth::drawn}));
  print("_drawn", learn(all, 48, {.eye = unknown, .truth = Truth::drawn}));
  print("_halved", learn(all, 48, {.eye = unknown, .truth = Truth::halved}));
  print("_late_looks", learn(all, 48, {.eye = unknown, .first_look = 0.5, .most_looks = 4}));
  print("_plate", learn(all, 48, {.eye = unknown, .plate = true}));
  print("_spread_known", learn(all, 48, {.eye = unknown, .spread = 0.4, .spread_known = true}));
  const Learnt observed = learn(all, 12, {.eye = unknown, .ideal = 1500});
  print("_observed", observed);
  figure("learn_error_10_ideal", median(observed.ideal), "ln");
  figure("learn_error_10_ideal_told", median(observed.ideal_told), "ln");
  Tally tail;
  for (const double spread : {0.25, 0.5, 0.75}) {
    const Tally one = learn(all, 16, {.eye = unknown, .truth = Truth::drawn, .spread = spread}).told.back();
    tail.held += one.held;
    tail.came += one.came;
    tail.count += one.count;
  }
  figure("tail_coverage", tail.coverage(), "share");
  figure("tail_announced", tail.came_true(), "share");
  figure("false_tap", false_tap(all, 12), "%");
  figure("release_half_shared_after_10", half_shared_release(all, 36), "share");
}

}  // namespace dryclock::bench
