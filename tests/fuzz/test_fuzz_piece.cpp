// A piece under parameters, air and handling that make no sense: no value it shows may leave its range,
// whatever comes in. 200,000 steps; ten million where DRYCLOCK_LONG is set.
#include <doctest/doctest.h>

#include <cmath>
#include <cstdint>
#include <cstdlib>
#include <limits>
#include <random>

#include "models/humid_air.hpp"
#include "models/piece_reach.hpp"
#include "models/shop_belief.hpp"

using namespace dryclock::models;

namespace {

class Dice {
 public:
  explicit Dice(std::uint64_t seed) : random_(seed) {}
  double between(double low, double high) {
    return low + (high - low) * static_cast<double>(random_() >> 11U) * 0x1p-53;
  }
  bool chance(double probability) { return between(0.0, 1.0) < probability; }
  // Mostly `usual`, now and then something that no sensor or file should send.
  double or_nonsense(double usual) {
    if (!chance(0.03)) {
      return usual;
    }
    constexpr double infinity = std::numeric_limits<double>::infinity();
    const double nonsense[] = {std::nan(""), infinity, -infinity, 0.0, -1.0, 1e300, -1e300, 1e-300};
    return nonsense[random_() % std::size(nonsense)];
  }

 private:
  std::mt19937_64 random_;
};

LaidSpec any_spec(Dice& dice) {
  LaidSpec spec;
  const int layers = static_cast<int>(dice.between(0.0, 4.99));
  for (int i = 0; i < layers; ++i) {
    spec.stack.layers.push_back(
        {.name = "sheet",
         .thickness = Metres{dice.or_nonsense(dice.between(5e-6, 250e-6))},
         .permeability = Permeability{dice.or_nonsense(std::exp(dice.between(-34.0, -29.0)))},
         .sorption = dice.or_nonsense(dice.between(1.0, 25.0)),
         .activation_energy = dice.or_nonsense(dice.between(5e3, 25e3))});
  }
  spec.stack.ln_resistance_spread = dice.or_nonsense(0.5);
  spec.solution.alcohol_fraction = dice.or_nonsense(dice.between(0.0, 0.3));
  spec.panel.heat_capacity = dice.or_nonsense(2767.0);
  spec.panel.transfer = HeatTransfer{dice.or_nonsense(8.0)};
  spec.panel.sides = dice.or_nonsense(1.0);
  spec.panel.body_heat_capacity = dice.or_nonsense(dice.chance(0.5) ? 20e3 : 0.0);
  spec.panel.body_transfer = HeatTransfer{dice.or_nonsense(3.0)};
  const int zones = static_cast<int>(dice.between(0.0, 4.99));
  for (int i = 0; i < zones; ++i) {
    spec.zones.push_back({.kind = static_cast<ZoneKind>(i % 4),
                          .usual = GramsPerSquareMetre{dice.or_nonsense(std::exp(dice.between(-1.0, 4.5)))},
                          .edge_width = Metres{dice.or_nonsense(0.005)}});
  }
  spec.air_layer_coefficient = dice.or_nonsense(2.3e-3);
  spec.panel_at_lay = Celsius{dice.or_nonsense(dice.between(-10.0, 40.0))};
  return spec;
}

Surroundings any_air(Dice& dice) {
  Surroundings air;
  air.air = Celsius{dice.or_nonsense(dice.between(-25.0, 55.0))};
  air.humidity = Humidity{dice.or_nonsense(dice.between(0.0, 1.0))};
  if (dice.chance(0.3)) {
    air.panel_c = dice.or_nonsense(dice.between(-20.0, 90.0));
  }
  if (dice.chance(0.3)) {
    air.air_speed = dice.or_nonsense(dice.between(0.0, 5.0));
  }
  air.absorbed_heat = dice.or_nonsense(dice.chance(0.2) ? dice.between(0.0, 900.0) : 0.0);
  return air;
}

bool in_order(const Quantiles& q, double low, double high) {
  return low <= q.low && q.low <= q.likely && q.likely <= q.high && q.high <= high;
}

// What a shop may be, a few nodes of it.
const std::vector<ShopNode>& shop() {
  static const std::vector<ShopNode> nodes = [] {
    const auto all = ShopBelief({}).nodes("");
    std::vector<ShopNode> some;
    for (std::size_t n = 0; n < all.size(); n += 17) {
      some.push_back(all[n]);
      some.back().weight = 1.0 / 14.0;
    }
    return some;
  }();
  return nodes;
}

void check_holds(const LaidPiece& piece) {
  for (std::size_t z = 0; z < piece.zones().size(); ++z) {
    const ZoneHolds holds = zone_holds(piece, z, piece.trace(z).size() - 1, shop(), {});
    REQUIRE(in_order(holds.water, 0.0, 1e6));
    REQUIRE(in_order(holds.wet_share, 0.0, 1.0));
    REQUIRE(in_order(holds.excess, 0.0, 1.0));
    REQUIRE(in_order(holds.bond, 0.0, 1.0));
  }
}

// Within 0..1, and no less than a while before.
void check_chances(const LaidPiece& piece) {
  if (piece.zones().empty()) return;
  PieceReach reach(piece, {}, {});
  const std::size_t last = piece.trace(0).size() - 1;
  for (std::size_t k = 0; k < milestone_kinds; ++k) {
    double before = 0.0;
    for (std::size_t quarter = 1; quarter <= 4; ++quarter) {
      CAPTURE(k);
      CAPTURE(quarter);
      const double now = reach.chance(static_cast<Milestone>(k), last * quarter / 4, shop());
      REQUIRE(now >= before - 1e-6);
      REQUIRE(now <= 1.0);
      before = now;
    }
  }
}

}  // namespace

TEST_SUITE_BEGIN("fuzz");

TEST_CASE("no value of a piece leaves its range, and no chance falls") {
  const int wanted = std::getenv("DRYCLOCK_LONG") != nullptr ? 10'000'000 : 200'000;
  constexpr int life = 400;  // steps of one piece
  for (int piece_number = 0; piece_number < wanted / life; ++piece_number) {
    CAPTURE(piece_number);
    Dice dice{static_cast<std::uint64_t>(piece_number)};
    Surroundings now = any_air(dice);
    LaidPiece piece{any_spec(dice), now};
    bool stepped = false, held = false;  // the flags tell of the last step
    for (int step = 0; step < life; ++step) {
      CAPTURE(step);
      const Surroundings next = dice.chance(0.8) ? any_air(dice) : now;
      const double seconds = dice.or_nonsense(std::exp(dice.between(0.0, 9.0)));
      piece.advance(dice.chance(0.95) ? now : any_air(dice), next, Seconds{seconds});
      stepped = stepped || (seconds > 0.0 && std::isfinite(seconds));
      now = next;
      if (dice.chance(0.005)) piece.open_edges();
      if (dice.chance(0.005)) piece.wrap_edges();
      if (dice.chance(0.01)) {
        held = true;
        piece.hold(static_cast<ZoneKind>(static_cast<int>(dice.between(0.0, 3.99))),
                   dice.chance(0.3) ? std::nan("") : dice.or_nonsense(dice.between(20.0, 80.0)));
      }
      REQUIRE(std::isfinite(piece.panel().value()));
      // A panel of no heat transfer under a lamp has no upper bound, but it is told to be too hot.
      REQUIRE(
          (!stepped || held || piece.panel() <= Celsius{60.0} || (piece.validity() & panel_too_hot) != 0));
    }
    if (piece_number % 10 != 0) continue;
    check_holds(piece);
    check_chances(piece);
  }
}

TEST_CASE("air outside the formulas is flagged") {
  Dice dice{42};
  LaidSpec spec;
  spec.stack.layers.push_back(
      {.name = "film", .thickness = Metres{150e-6}, .permeability = Permeability{5e-14}, .sorption = 17.0});
  spec.zones.push_back({.kind = ZoneKind::field, .usual = GramsPerSquareMetre{10.0}});
  Surroundings good{.air = Celsius{21.0}, .humidity = Humidity{0.5}};
  for (int i = 0; i < 2000; ++i) {
    CAPTURE(i);
    LaidPiece piece{spec, good};
    const Surroundings next = any_air(dice);
    piece.advance(good, next, Seconds{60.0});
    CHECK(((piece.validity() & air_out_of_range) != 0) == (out_of_range(next) != valid));
  }
}

TEST_SUITE_END();
