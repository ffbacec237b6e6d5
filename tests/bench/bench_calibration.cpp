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

#include "calibration.hpp"
#include "compute/compute_tasks.hpp"
#include "compute/outlook.hpp"
#include "models/shop_belief.hpp"
#include "models/shop_truth.hpp"
#include "models/usual_film.hpp"
#include "stopwatch.hpp"
#include "support/csv.hpp"

using namespace dryclock::models;
using namespace dryclock::bench;
using shop_truth::Bay;
using shop_truth::Draws;
using shop_truth::Shop;

namespace {

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

double quantile(std::vector<double> all, double level) {
  const auto nth = all.begin() + static_cast<std::ptrdiff_t>(level * static_cast<double>(all.size()));
  std::nth_element(all.begin(), nth, all.end());
  return *nth;
}

// How far the times told at 0.1, 0.5 and 0.9 lie from those of so many drawn shops, at most. [%]
template <class When>
double quadrature(const Bay& bay, int pieces, int shops, Milestone step, When when) {
  const shop_truth::TrueTimes times(bay);
  const ShopLevels levels;
  Draws draws(seed + 3);
  std::vector<double> came;
  for (int i = 0; i < shops; ++i) {
    const shop_truth::AnyShop any = shop_truth::draw_any_shop(draws, levels);
    double last = 0.0;
    for (int k = 0; k < pieces; ++k) {
      last = std::max(
          last, times.when(shop_truth::draw_piece(draws, any.shop, any.levels, bonnet), any.shop, step));
    }
    came.push_back(last);
  }
  double most = 0.0;
  for (const double level : {0.1, 0.5, 0.9}) {
    most = std::max(most, std::abs(when(level) / quantile(came, level) - 1.0));
  }
  return 100.0 * most;
}

// How far apart one and the same bonnet is announced under twenty numbers, in one vehicle and alone. [%]
double numbers_spread(const Bay& bay) {
  const auto spec = dryclock::test::spec();
  const LaidPiece piece(spec, bay.air().front());
  dryclock::OutlookTask task;
  task.now = task.earliest_release = dryclock::test::now;
  task.step = Seconds{Bay::quarter};
  task.forecast = {{1.0, bay.air()}};
  constexpr auto wrap = static_cast<std::size_t>(Milestone::wrap_ready);
  double first = 0.0, last = 0.0;
  const auto add = [&](const dryclock::OutlookTask& asked) {
    for (const auto& one : dryclock::compute::answer(asked).pieces) {
      const double hours =
          dryclock::seconds_between(asked.now, one.reach[wrap].announces.value_or(asked.now)) / hour;
      first = first > 0.0 ? std::min(first, hours) : hours;
      last = std::max(last, hours);
    }
  };
  for (int number = 1; number <= 20; ++number) {
    dryclock::OutlookTask::Item item{
        .id = 97 * number, .film = "film", .piece = piece, .needed = {}, .said = {}};
    item.needed[wrap] = true;
    auto alone = task;
    alone.pieces = {item};
    add(alone);
    task.pieces.push_back(item);
  }
  add(task);
  return 100.0 * (last / first - 1.0);
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

// Truth in which all, none or half of what is a shop's own is shared by its pieces.
double release_coverage(const std::vector<Bay>& all, int pieces, double shared) {
  const ShopLevels levels;
  const auto nodes = ShopBelief(levels).nodes("");
  Draws draws(seed + 1);
  Tally tally;
  for (const Bay& bay : all) {
    const shop_truth::TrueTimes times(bay);
    shop_truth::Expected outlook(bay, bonnet);
    const double early = when_all(outlook, pieces, 0.1, nodes), late = when_all(outlook, pieces, 0.9, nodes);
    for (int i = 0; i < 60; ++i) {
      const Shop common = shop_truth::draw_shop(draws, levels);
      double last = 0.0;
      for (int k = 0; k < pieces; ++k) {
        const Shop shop = partly_shared(draws, common, levels, shared);
        last = std::max(last, times.when(shop_truth::draw_piece(draws, shop, levels, bonnet), shop,
                                         Milestone::may_leave));
      }
      tally.add(last, early, late);
    }
  }
  return tally.coverage();
}

}  // namespace

double dryclock::bench::when_all(shop_truth::Expected& piece, int pieces, double level,
                                 const std::vector<ShopNode>& nodes) {
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
  figure("release_half_shared_before_looks", release_coverage(all, 16, 0.5), "share");
  {
    const auto nodes = ShopBelief({}).nodes("");
    shop_truth::Expected piece(all.front(), bonnet);
    figure("quadrature_lone",
           quadrature(all.front(), 1, 40'000, Milestone::wrap_ready,
                      [&](double level) { return piece.when(Milestone::wrap_ready, level, nodes); }),
           "%");
    figure("quadrature_release",
           quadrature(all.front(), 16, 3'000, Milestone::may_leave,
                      [&](double level) { return when_all(piece, 16, level, nodes); }),
           "%");
  }
  figure("numbers_spread_pct", numbers_spread(all.front()), "%");
  figure("equal_pieces_min", equal_pieces(room, all), "min");
  learning(all);
  return 0;
}
