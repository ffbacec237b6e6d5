#include "models/evidence.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

#include "drying_cases.hpp"
#include "models/shop_belief.hpp"
#include "steady_bay.hpp"

using namespace dryclock::models;
using namespace drying_cases;

namespace {

LaidPiece laid(double hours) {
  return steady(hours).lay(bonnet);
}

// What hands' water and film's resistance come to together, after a sign at the edge.
double slowness(const LaidPiece& piece, const std::vector<Look>& looks) {
  const ShopLevels levels;
  ShopBelief belief(levels);
  belief.learn("a film", PieceLikelihood(evidence(piece, looks), levels).nodes());
  double sum = 0.0;
  for (const ShopNode& node : belief.nodes("a film")) {
    sum += node.weight * (node.film + node.hand);
  }
  return sum;
}

// The edge in the usual shop, when so much of it is still wet.
struct UsualEdge {
  double seconds = 0.0, water = 0.0;  // since lay; g/m2
  [[nodiscard]] Sign by_eye() const {
    return std::ranges::max(std::array{Sign::wet, Sign::hazy, Sign::clear}, {},
                            [&](Sign sign) { return sight(sign, water, 1.0); });
  }
};
UsualEdge usual_edge(const LaidPiece& piece, double wet) {
  const double water = bonnet[1].usual.value(), break_up = 0.5;
  const WaterSpread lies(0.4);
  const CourseTrace& trace = piece.trace(1);
  for (std::size_t i = 0; i < trace.size(); ++i) {
    const double drunk = between_lanes(trace[i].drunk, lane_log_factors(), 0.0) / break_up;
    const double margin = piece.margin(1).left(trace[i].front_squared);
    if (margin * lies.wet_share(std::log(water / break_up), drunk) > wet) continue;
    return {trace[i].seconds, margin * water * lies.left_share(std::log(water / break_up), drunk)};
  }
  return {};
}

}  // namespace

TEST_SUITE_BEGIN("belief");

TEST_CASE("evidence holds what the film had drunk at each look") {
  const LaidPiece piece = laid(12.0);
  const auto all = evidence(piece, {{1, 3.0 * hour, Sign::wet}, {1, 9.0 * hour, Sign::clear}});
  REQUIRE(all.zones.size() == 2);
  CHECK(all.zones[0].seen.empty());
  CHECK(all.zones[1].usual == 3.5);
  CHECK(all.zones[1].margin == piece.margin(1));
  REQUIRE(all.zones[1].seen.size() == 2);
  const Seen& first = all.zones[1].seen.front();
  CHECK(first.sign == Sign::wet);
  CHECK(first.seconds == 3.0 * hour);
  const CourseTrace& trace = piece.trace(1);
  for (std::size_t m = 0; m < members; ++m) {
    CHECK(first.drunk[m] == trace.drunk(trace.where_seconds(3.0 * hour), m));
  }
  CHECK(first.front_squared == trace.front_squared(trace.where_seconds(3.0 * hour)));
}

TEST_CASE("a later look within ten minutes replaces one of its own sort alone") {
  const LaidPiece piece = laid(12.0);
  const auto all = evidence(piece, {{1, 3.0 * hour, Sign::wet},
                                    {1, 3.0 * hour + 60.0, Sign::held},
                                    {0, 3.0 * hour + 120.0, Sign::clear},
                                    {1, 3.0 * hour + 599.0, Sign::hazy},
                                    {1, 3.0 * hour + 1200.0, Sign::clear}});
  REQUIRE(all.zones[1].seen.size() == 3);
  CHECK(all.zones[1].seen[0].sign == Sign::held);
  CHECK(all.zones[1].seen[1].sign == Sign::hazy);
  CHECK(all.zones[1].seen[2].sign == Sign::clear);
  CHECK(all.zones[0].seen.size() == 1);
}

TEST_CASE("each sign moves the belief its way") {
  const LaidPiece piece = laid(24.0);
  const double before = slowness(piece, {});
  CHECK(slowness(piece, {{1, 3.0 * hour, Sign::none_wet}}) < before);
  CHECK(slowness(piece, {{1, 14.0 * hour, Sign::mostly_wet}}) > before);
  CHECK(slowness(piece, {{1, 3.0 * hour, Sign::held}}) < before);
  CHECK(slowness(piece, {{1, 14.0 * hour, Sign::lifted}}) > before);
  // Between them in order.
  double last = -10.0;
  for (const Sign sign : std::array{Sign::none_wet, Sign::tenth_wet, Sign::half_wet, Sign::mostly_wet}) {
    const double now = slowness(piece, {{1, 6.0 * hour, sign}});
    CHECK(now > last);
    last = now;
  }
}

TEST_CASE("a share that was counted says more than an eye's word for it") {
  // Both of what the usual shop shows: what surprises may leave more possible than was thought before, since
  // some shops are odd.
  const LaidPiece piece = laid(24.0);
  const auto width = [&](const std::vector<Look>& looks) {
    const ShopLevels levels;
    ShopBelief belief(levels);
    belief.learn("a film", PieceLikelihood(evidence(piece, looks), levels).nodes());
    double mean = 0.0, square = 0.0;
    for (const ShopNode& node : belief.nodes("a film")) {
      mean += node.weight * (node.film + node.hand);
      square += node.weight * (node.film + node.hand) * (node.film + node.hand);
    }
    return std::sqrt(square - mean * mean);
  };
  const UsualEdge half = usual_edge(piece, 0.5), tenth = usual_edge(piece, 0.1);
  REQUIRE(half.seconds < tenth.seconds);
  const double counted = width({{1, half.seconds, Sign::half_wet}, {1, tenth.seconds, Sign::tenth_wet}});
  const double seen = width({{1, half.seconds, half.by_eye()}, {1, tenth.seconds, tenth.by_eye()}});
  CHECK(counted < seen);
  CHECK(seen < width({}));
}

TEST_SUITE_END();
