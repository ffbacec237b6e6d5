#include "models/piece_reach.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <string>
#include <vector>

#include "drying_cases.hpp"
#include "models/normal.hpp"
#include "steady_bay.hpp"

using namespace dryclock::models;
using namespace drying_cases;
using shop_truth::Bay;
using shop_truth::Expected;

namespace {

constexpr std::array<Milestone, milestone_kinds> every{Milestone::liquid_gone, Milestone::wrap_ready,
                                                       Milestone::trim_ready,  Milestone::refit_ready,
                                                       Milestone::clear,       Milestone::may_leave};

const std::vector<LaidZone> bumper{shop_truth::zone(ZoneKind::field, 1.0),
                                   shop_truth::zone(ZoneKind::edge, 3.5),
                                   shop_truth::zone(ZoneKind::recess, 6.5)};

std::vector<ShopNode> nodes() {
  return ShopBelief({}).nodes("");
}

LaidPiece laid(const std::vector<LaidZone>& zones, const Surroundings& bay) {
  LaidSpec spec;
  spec.stack = baseline();
  spec.zones = zones;
  return LaidPiece(spec, bay);
}

double chance_now(const LaidPiece& piece, Milestone which) {
  PieceReach reach(piece, {}, {});
  return reach.chance(which, piece.trace(0).size() - 1, nodes());
}

}  // namespace

TEST_SUITE_BEGIN("piece_reach");

// Within 1e-6, which is the table of the normal distribution's.
TEST_CASE("chances lie within 0 and 1 and never fall with time, for any milestone and node") {
  Expected expected(steady(96.0), bumper);
  const auto all = nodes();
  std::vector<double> before(all.size()), now(all.size());
  for (const Milestone which : every) {
    CAPTURE(static_cast<int>(which));
    std::fill(before.begin(), before.end(), 0.0);
    double most_fallen = 0.0;
    for (std::size_t point = 0; point <= expected.last_point(); point += 3) {
      expected.reach().chances(which, point, all, now);
      for (std::size_t n = 0; n < all.size(); ++n) {
        REQUIRE(now[n] >= 0.0);
        REQUIRE(now[n] <= 1.0);
        most_fallen = std::max(most_fallen, before[n] - now[n]);
      }
      before = now;
    }
    CHECK(most_fallen < 1e-6);
    CHECK(expected.reach().chance(which, expected.last_point(), all) > 0.9);
  }
}

// Four thousand pieces of one node of the shop, drawn as the levels say. Their hours have an ln sd of about
// 0.4, so that three standard errors of a quantile are 2.6 % at a quarter of them and 3.3 % at 0.9; the three
// deviates for what is normal add a little.
TEST_CASE("the chance is the share of drawn pieces that are there") {
  const Bay bay = steady(240.0);
  const shop_truth::TrueTimes times(bay);
  const ShopLevels levels;
  const ShopWorld& world = shop_worlds()[4];
  const ShopNode node{1.0, 0.1, -0.1, 4, levels.film_piece(), levels.zone()};
  const shop_truth::Shop shop{node.film, node.hand, world.water, world.margin_speed};
  Expected expected(bay, bumper);
  shop_truth::Draws random(11);
  for (const Milestone which : every) {
    std::vector<double> when;
    for (int i = 0; i < 4000; ++i) {
      when.push_back(times.when(shop_truth::draw_piece(random, shop, levels, bumper), shop, which));
    }
    std::sort(when.begin(), when.end());
    for (const double share : {0.25, 0.5, 0.9}) {
      CAPTURE(static_cast<int>(which));
      CAPTURE(share);
      const double drawn = when[static_cast<std::size_t>(share * static_cast<double>(when.size()))];
      CHECK(std::abs(expected.when(which, share, {node}) / drawn - 1.0) < 0.04);
    }
  }
}

TEST_CASE("equal pieces have equal chances to the bit, in whatever order they are asked") {
  const Bay bay = steady(24.0);
  Expected one(bay, bumper), other(bay, bumper);
  const auto all = nodes();
  for (const std::size_t point : {std::size_t{40}, std::size_t{60}, std::size_t{20}}) {
    static_cast<void>(other.reach().chance(Milestone::may_leave, point, all));
  }
  for (const Milestone which : every) {
    for (const std::size_t point : {std::size_t{20}, std::size_t{40}, std::size_t{60}}) {
      CHECK(one.reach().chance(which, point, all) == other.reach().chance(which, point, all));
    }
  }
}

TEST_CASE("a piece is where its zones are, and the least likely of them holds it back") {
  Expected expected(steady(48.0), bumper);
  const auto all = nodes();
  const std::size_t point = expected.point(16.0 * hour);
  for (const Milestone which : every) {
    const double together = expected.reach().chance(which, point, all);
    for (std::size_t z = 0; z < bumper.size(); ++z) {
      CHECK(together <= expected.reach().zone_chance(which, z, point, all) + 1e-12);
    }
  }
  CHECK(expected.reach().limiting_zone(Milestone::clear, point, all) == 2);
  CHECK(expected.reach().limiting_zone(Milestone::trim_ready, point, all) == 1);
  // Nothing is asked of a recess there.
  CHECK(expected.reach().zone_chance(Milestone::trim_ready, 2, point, all) == 1.0);
}

TEST_CASE("two equal zones are less likely to be there than one, as much as they have a part of their own") {
  const Bay bay = steady(24.0);
  auto twice = bumper;
  twice.push_back(bumper[1]);
  Expected one(bay, bumper), two(bay, twice);
  const ShopNode node{1.0, 0.0, 0.0, 0, 0.0, 0.3};
  ShopLevels alike;  // nothing is a piece's own: its zones are independent
  alike.piece_share = 0.0;
  Expected alone(bay, {bumper[1]}, alike), both(bay, {bumper[1], bumper[1]}, alike);
  const std::size_t point = alone.point(8.0 * hour);
  const double single = alone.reach().chance(Milestone::liquid_gone, point, std::vector{node});
  CHECK(both.reach().chance(Milestone::liquid_gone, point, std::vector{node}) ==
        about(single * single, 1e-12));
  CHECK(two.reach().chance(Milestone::liquid_gone, point, nodes()) <
        one.reach().chance(Milestone::liquid_gone, point, nodes()));
}

TEST_CASE("less water, drier air, a warmer panel, a film that lets more through: no chance is smaller") {
  const auto after = [](double water, double humidity, double panel_c, double thickness) {
    LaidSpec spec;
    spec.stack = baseline();
    for (Layer& sheet : spec.stack.layers) {
      sheet.permeability = Permeability{sheet.permeability.value() / thickness};
    }
    spec.zones = {shop_truth::zone(ZoneKind::field, 1.0), shop_truth::zone(ZoneKind::edge, water)};
    const Surroundings bay = air(18.0, humidity, panel_c);
    LaidPiece piece(spec, bay);
    piece.advance(std::vector<Surroundings>(10 * 12 + 1, bay), Seconds{300.0});
    std::vector<double> all;
    for (const Milestone which : every) {
      all.push_back(chance_now(piece, which));
    }
    return all;
  };
  const auto usual = after(3.5, 0.55, 18.0, 1.0);
  for (const auto& better : {after(2.0, 0.55, 18.0, 1.0), after(3.5, 0.40, 18.0, 1.0),
                             after(3.5, 0.55, 22.0, 1.0), after(3.5, 0.55, 18.0, 0.7)}) {
    for (std::size_t k = 0; k < every.size(); ++k) {
      CAPTURE(k);
      CHECK(better[k] >= usual[k] - 1e-9);
    }
    CHECK(better[0] > usual[0]);
  }
}

// Common practice, no source.
TEST_CASE("an opened edge dries faster, a wrapped one slower, a heated one faster") {
  const Surroundings bay = air(20.0, 0.5);
  const auto after = [&](auto change) {
    LaidPiece piece = laid(bumper, bay);
    piece.advance(bay, bay, Seconds{3.0 * hour});
    change(piece);
    piece.advance(std::vector<Surroundings>(6 * 12 + 1, bay), Seconds{300.0});
    return chance_now(piece, Milestone::trim_ready);
  };
  const double plain = after([](LaidPiece&) {});
  CHECK(after([](LaidPiece& piece) { piece.open_edges(); }) > plain + 0.02);
  CHECK(after([](LaidPiece& piece) { piece.wrap_edges(); }) < plain - 0.02);
  CHECK(after([](LaidPiece& piece) { piece.hold(ZoneKind::edge, 35.0); }) > plain + 0.1);
  CHECK(after([](LaidPiece& piece) { piece.hold(ZoneKind::recess, 35.0); }) == plain);
}

// Common practice, no source: at 20 C acrylic adhesive has half of its strength after 20 min, nine tenths
// after 24 h. Laid dry, half of the shops are there: 0.6 of a trim after 20 min * 10^(0.1/0.2154) = 58.2 min.
// The worlds hold that within their spread and both laws alike, so that chances are level there.
TEST_CASE("film laid dry at 20 C: the field bonds to a half after 20 min, an edge to 0.6 after an hour") {
  std::vector<LaidZone> dry = bumper;
  for (LaidZone& zone : dry) {
    zone.usual = GramsPerSquareMetre{1e-3};
  }
  const Surroundings bay = air(20.0, 0.5, 20.0);
  const auto after = [&](double minutes, Milestone which) {
    LaidPiece piece = laid(dry, bay);
    piece.advance(bay, bay, Seconds{60.0 * minutes});
    return chance_now(piece, which);
  };
  struct {
    Milestone which;
    double minutes;
  } const expected[] = {{Milestone::wrap_ready, 20.0}, {Milestone::trim_ready, 58.2}};
  for (const auto& one : expected) {
    CHECK(after(0.5 * one.minutes, one.which) < 0.1);  // two standard deviations of the bond's clock
    CHECK(after(2.0 * one.minutes, one.which) > 0.9);
  }
}

TEST_SUITE_END();
TEST_SUITE_BEGIN("zone_holds");

TEST_CASE("what a zone holds is in order, falls with time, and bonds") {
  Expected expected(steady(96.0), bumper);
  const auto all = nodes();
  const auto in_order = [](const Quantiles& q, double most) {
    CHECK(q.low >= 0.0);
    CHECK(q.low <= q.likely);
    CHECK(q.likely <= q.high);
    CHECK(q.high <= most);
  };
  for (std::size_t z = 0; z < bumper.size(); ++z) {
    ZoneHolds before{};
    for (std::size_t point = 0; point <= expected.last_point(); point += 12) {
      const ZoneHolds holds = zone_holds(expected.piece(), z, point, all, {});
      in_order(holds.water, 1e3);
      in_order(holds.wet_share, 1.0);
      in_order(holds.excess, 1.0);
      in_order(holds.bond, 1.0);
      if (point > 0) {
        CHECK(holds.water.likely <= before.water.likely + 1e-9);
        CHECK(holds.wet_share.likely <= before.wet_share.likely + 1e-9);
        CHECK(holds.excess.likely <= before.excess.likely + 1e-9);
        CHECK(holds.bond.likely >= before.bond.likely - 1e-9);
      }
      before = holds;
    }
    CHECK(before.bond.likely > 0.6);
  }
}

// Of a log-normal of ln sd 0.5, the levels' own; what the film takes up in its first moments is a part of a
// gram. The nodes, with one piece for each, keep a decile to about a tenth.
TEST_CASE("at lay a zone holds what hands leave") {
  const Bay bay = steady(1.0);
  const std::vector<LaidZone> pool{shop_truth::zone(ZoneKind::recess, 40.0)};
  const Expected expected(bay, pool);
  const Quantiles water = zone_holds(expected.piece(), 0, 0, nodes(), {}).water;
  CHECK(water.likely == about(40.0, 0.05));
  CHECK(water.high == about(40.0 * std::exp(0.5 * normal_quantile(0.9)), 0.12));
  CHECK(water.low == about(40.0 * std::exp(0.5 * normal_quantile(0.1)), 0.12));
}

TEST_CASE("when a milestone is an even chance, the zone likely holds what it asks") {
  const Bay bay = steady(96.0);
  Expected edge(bay, {shop_truth::zone(ZoneKind::edge, 3.5)});
  const auto all = nodes();
  const Thresholds asks;
  const auto holds_at_even = [&](Milestone which) {
    return zone_holds(edge.piece(), 0, edge.point(edge.when(which, 0.5, all)), all, {});
  };
  CHECK(std::abs(holds_at_even(Milestone::liquid_gone).wet_share.likely - asks.gone_wet) < 0.03);
  CHECK(std::abs(holds_at_even(Milestone::clear).wet_share.likely - asks.clear_wet) < 0.02);
}

TEST_SUITE_END();
