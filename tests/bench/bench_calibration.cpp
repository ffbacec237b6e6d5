// Whether what is foretold of pieces and vehicles comes true, and how fast a shop is learnt: shops drawn from
// the levels as they are stated, pieces laid in rooms whose air was measured (TRH-database, house R3, CC BY
// 4.0). The seed is printed; the air that comes is known, so that film, hands and eyes alone are judged.
//   bench_calibration [NAME]
#include <algorithm>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <limits>
#include <string>
#include <vector>

#include "models/shop_belief.hpp"
#include "models/shop_truth.hpp"
#include "models/usual_film.hpp"
#include "stopwatch.hpp"
#include "support/csv.hpp"

using namespace dryclock::models;
using dryclock::bench::figure;
using dryclock::bench::median;
using shop_truth::Bay;
using shop_truth::Draws;
using shop_truth::Shop;

namespace {

constexpr double hour = 3600.0;
constexpr std::uint32_t seed = 20261129;
constexpr double hours_ahead = 144.0;
const std::vector<LaidZone> bonnet{shop_truth::zone(ZoneKind::field, 1.0),
                                   shop_truth::zone(ZoneKind::edge, 3.5)};

// Hourly air of one place, from every afternoon at four.
struct Place {
  std::vector<Surroundings> hours;
  [[nodiscard]] Surroundings at(std::size_t first, double seconds) const {
    const auto before = static_cast<std::size_t>(seconds / hour);
    return between(hours[first + before], hours[first + before + 1],
                   seconds / hour - static_cast<double>(before));
  }
};

Place read_place(const std::string& folder, const std::string& name) {
  std::ifstream file(folder + "/trh_r3_hourly.csv");
  constexpr std::size_t where = 0, celsius = 2, humidity = 3;
  Place place;
  for (std::string line; std::getline(file, line);) {
    const auto cells = dryclock::test::cells_of(line);
    if (cells[where] == name)
      place.hours.push_back(drying_cases::air(std::stod(cells[celsius]), std::stod(cells[humidity]) / 100.0));
  }
  return place;
}

// Bays with the air of so many windows of a place, spread over its record; pieces laid so many seconds later.
std::vector<Bay> bays(const Place& place, std::size_t count, double later = 0.0) {
  std::vector<Bay> out;
  const auto span = static_cast<std::size_t>(hours_ahead) + 2;
  for (std::size_t k = 0; k < count; ++k) {
    const std::size_t first = k * (place.hours.size() - span) / count;
    out.emplace_back(
        drying_cases::baseline(), [&](double at) { return place.at(first, at + later); }, hours_ahead);
  }
  return out;
}

double late_by(double hours, double expected) {
  return std::abs(std::log(hours / expected));
}

// How often a time fell within a band of 80 %, and before what is announced at 0.9.
struct Tally {
  double held = 0.0, came = 0.0, count = 0.0;
  void add(double time, double early, double late) {
    held += time >= early && time <= late ? 1.0 : 0.0;
    came += time <= late ? 1.0 : 0.0;
    count += 1.0;
  }
  [[nodiscard]] double coverage() const { return held / count; }
  [[nodiscard]] double came_true() const { return came / count; }
};

void lone(const std::vector<Bay>& all) {
  const ShopLevels levels;
  const auto nodes = ShopBelief(levels).nodes("");
  std::array<Tally, 3> tallies;
  constexpr std::array<Milestone, 3> asked{Milestone::wrap_ready, Milestone::trim_ready,
                                           Milestone::liquid_gone};
  Draws draws(seed);
  for (const Bay& bay : all) {
    const shop_truth::TrueTimes times(bay);
    shop_truth::Expected outlook(bay, bonnet);
    for (std::size_t k = 0; k < asked.size(); ++k) {
      const double early = outlook.when(asked[k], 0.1, nodes), late = outlook.when(asked[k], 0.9, nodes);
      for (int i = 0; i < 200; ++i) {
        const Shop shop = shop_truth::draw_shop(draws, levels);
        tallies[k].add(times.when(shop_truth::draw_piece(draws, shop, levels, bonnet), shop, asked[k]), early,
                       late);
      }
    }
  }
  figure("lone_coverage_wrap", tallies[0].coverage(), "share");
  figure("lone_coverage_trim", tallies[1].coverage(), "share");
  figure("lone_coverage_gone", tallies[2].coverage(), "share");
  figure("announced_came_true", tallies[0].came_true(), "share");
}

// How far apart two equal pieces are announced that were laid five minutes apart, at most. [min]
double equal_pieces(const Place& room, const std::vector<Bay>& all) {
  constexpr double apart = 300.0;
  const auto nodes = ShopBelief({}).nodes("");
  const std::vector<Bay> later = bays(room, all.size(), apart);
  double most = 0.0;
  for (std::size_t i = 0; i < all.size(); ++i) {
    shop_truth::Expected first(all[i], bonnet), second(later[i], bonnet);
    for (const Milestone step : {Milestone::wrap_ready, Milestone::trim_ready, Milestone::may_leave}) {
      most = std::max(most, std::abs(second.when(step, 0.9, nodes) + apart - first.when(step, 0.9, nodes)));
    }
  }
  return most / 60.0;
}

// When all of so many equal pieces may leave, by the chance at every point.
double when_all(shop_truth::Expected& piece, int pieces, double level, const std::vector<ShopNode>& nodes) {
  std::vector<double> each(nodes.size());
  const auto chance = [&](std::size_t point) {
    piece.reach().chances(Milestone::may_leave, point, nodes, each);
    double sum = 0.0;
    for (std::size_t n = 0; n < nodes.size(); ++n) {
      sum += nodes[n].weight * std::pow(each[n], pieces);
    }
    return sum;
  };
  const CourseTrace& trace = piece.piece().trace(0);
  std::size_t low = 0, high = piece.last_point();
  if (chance(high) < level) return std::numeric_limits<double>::infinity();
  while (high - low > 1) {
    const std::size_t middle = (low + high) / 2;
    (chance(middle) < level ? low : high) = middle;
  }
  const double before = chance(low), share = (level - before) / (chance(high) - before);
  return trace[low].seconds + share * (trace[high].seconds - trace[low].seconds);
}

// Truth in which all, none or half of what is a shop's own is shared by its pieces.
double release_coverage(const std::vector<Bay>& all, int pieces, double shared) {
  const ShopLevels levels;
  const auto nodes = ShopBelief(levels).nodes("");
  Draws draws(seed + 1);
  Tally tally;
  const auto mixed = [&](double common, double own) {
    return std::sqrt(shared) * common + std::sqrt(1.0 - shared) * own;
  };
  for (const Bay& bay : all) {
    const shop_truth::TrueTimes times(bay);
    shop_truth::Expected outlook(bay, bonnet);
    const double early = when_all(outlook, pieces, 0.1, nodes), late = when_all(outlook, pieces, 0.9, nodes);
    for (int i = 0; i < 60; ++i) {
      const Shop common = shop_truth::draw_shop(draws, levels);
      double last = 0.0;
      for (int k = 0; k < pieces; ++k) {
        Shop shop = common;
        const Shop own = shop_truth::draw_shop(draws, levels);
        shop.film = mixed(common.film, own.film);
        shop.hand = mixed(common.hand, own.hand);
        last = std::max(last, times.when(shop_truth::draw_piece(draws, shop, levels, bonnet), shop,
                                         Milestone::may_leave));
      }
      tally.add(last, early, late);
    }
  }
  return tally.coverage();
}

// What shops have taught after so many pieces.
struct Learnt {
  std::vector<double> errors5, errors10, floor;
  Tally after10, after20;
};

struct Habit {
  double eye = 0.0;         // ln of what these eyes call wet and clear against the usual; NaN: drawn
  double wrong_taps = 0.0;  // of all looks, at random
  bool off_by_two = true;   // its film and its hands, either way; else drawn as the rest
  double first_look = 0.5;  // when it is so likely that the edge's liquid is gone
};

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
  // What he takes a zone for he takes it for again: 0.7 of the variance of a reading, 0.74 in ln of the
  // water.
  const std::array<double, 2> reading{std::sqrt(0.7) * 0.74 * draws.normal(),
                                      std::sqrt(0.7) * 0.74 * draws.normal()};
  for (int k = 0; k < most_looks && at < hours_ahead; ++k, at *= 1.5) {
    const auto look = [&](std::size_t zone) {
      const double water = times.left(piece, shop, zone, Bay::point(at)) * std::exp(-eye - reading[zone]);
      looks.push_back({zone, at * hour, seen(draws, water, habit.wrong_taps)});
    };
    look(0);
    look(1);
    if (looks.back().sign == Sign::clear) break;
  }
  belief.learn("", PieceLikelihood(evidence(expected.piece(), looks), levels).nodes());
}

Learnt learn(const std::vector<Bay>& all, std::size_t shops, const Habit& habit) {
  const ShopLevels levels;
  Draws draws(seed + 2);
  Learnt out;
  for (std::size_t i = 0; i < shops; ++i) {
    Shop shop = shop_truth::draw_shop(draws, levels);
    const double way = i % 2 == 0 ? 1.0 : -1.0;
    if (habit.off_by_two) shop.film = shop.hand = way * std::log(2.0);
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
        if (taught == 10) out.errors10.push_back(late_by(time, likely));
        if (taught == 10) out.after10.add(time, early, late);
        if (taught == 20) out.after20.add(time, early, late);
      }
    }
  }
  return out;
}

}  // namespace

int main(int argc, char** argv) {
  const std::string only = argc > 1 ? argv[1] : "";
  if (!only.empty() && only != "calibration") return 0;
  const char* folder = std::getenv("DRYCLOCK_REFERENCE");
  const Place room = read_place(folder == nullptr ? "../shared/reference" : folder, "heated-room");
  if (room.hours.size() < 1000) {
    std::puts("bench: the reference files are not here (DRYCLOCK_REFERENCE): no figures of calibration");
    return 0;
  }
  std::printf("calibration: seed %u\n", seed);
  const std::vector<Bay> all = bays(room, 12);
  lone(all);
  for (const int pieces : {4, 16, 25}) {
    const std::string of = "_" + std::to_string(pieces);
    figure(("release_shared_coverage" + (pieces == 16 ? "" : of)).c_str(), release_coverage(all, pieces, 1.0),
           "share");
  }
  figure("release_independent_coverage", release_coverage(all, 16, 0.0), "share");
  figure("release_half_shared_coverage", release_coverage(all, 16, 0.5), "share");
  figure("equal_pieces_min", equal_pieces(room, all), "min");
  const double unknown = std::numeric_limits<double>::quiet_NaN();
  const Learnt learnt = learn(all, 48, {.eye = unknown});
  figure("learn_floor", median(learnt.floor), "ln");
  figure("learn_error_5", median(learnt.errors5), "ln");
  figure("learn_error_10", median(learnt.errors10), "ln");
  figure("learn_coverage_10", learnt.after10.coverage(), "share");
  figure("learn_coverage_20", learnt.after20.coverage(), "share");
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
  return 0;
}
