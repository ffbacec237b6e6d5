// A piece under parameters, air and handling that make no sense: no value it shows may leave its range,
// whatever comes in. 200,000 steps; ten million where DRYCLOCK_LONG is set.
#include <doctest/doctest.h>

#include <cmath>
#include <cstdint>
#include <cstdlib>
#include <limits>
#include <random>

#include "models/humid_air.hpp"
#include "models/piece.hpp"

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

PieceSpec any_spec(Dice& dice) {
  PieceSpec spec;
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
    const double likely = dice.or_nonsense(std::exp(dice.between(-1.0, 4.5)));
    spec.zones.push_back(
        {.kind = static_cast<ZoneKind>(i % 4),
         .water_layer = {dice.or_nonsense(likely * 0.4), likely, dice.or_nonsense(likely * 2.5)},
         .edge_width = Metres{dice.or_nonsense(0.01)}});
  }
  spec.break_up = GramsPerSquareMetre{dice.or_nonsense(dice.between(0.0, 3.0))};
  spec.air_layer_coefficient = dice.or_nonsense(2.3e-3);
  spec.panel_at_lay = Celsius{dice.or_nonsense(dice.between(-10.0, 40.0))};
  spec.seed = static_cast<std::uint64_t>(dice.between(0.0, 1e9));
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

void check_view(const PieceView& view, std::size_t zones) {
  REQUIRE(view.zones.size() == zones);
  for (const ZoneView& zone : view.zones) {
    REQUIRE(in_order(zone.water, 0.0, 1e6));
    REQUIRE(in_order(zone.excess, 0.0, 1.0));
    REQUIRE(in_order(zone.bond, 0.0, 1.0));
    REQUIRE(in_order(zone.hours_to_go, 0.0, std::numeric_limits<double>::infinity()));
    REQUIRE(zone.dry_probability >= 0.0);
    REQUIRE(zone.dry_probability <= 1.0 + 1e-12);
  }
  for (const double probability : view.probability) {
    REQUIRE(probability >= 0.0);
    REQUIRE(probability <= 1.0 + 1e-12);
  }
  REQUIRE(std::isfinite(view.panel.value()));
}

}  // namespace

TEST_SUITE_BEGIN("fuzz");

TEST_CASE("no value that a piece shows leaves its range") {
  const int wanted = std::getenv("DRYCLOCK_LONG") != nullptr ? 10'000'000 : 200'000;
  constexpr int life = 400;  // steps of one piece
  for (int piece_number = 0; piece_number < wanted / life; ++piece_number) {
    CAPTURE(piece_number);
    Dice dice{static_cast<std::uint64_t>(piece_number)};
    const PieceSpec spec = any_spec(dice);
    Surroundings now = any_air(dice);
    Piece piece{spec, Thresholds{}, now};
    check_view(piece.view(), spec.zones.size());
    bool stepped = false;  // the flags tell of the last step
    for (int step = 0; step < life; ++step) {
      CAPTURE(step);
      const Surroundings next = dice.chance(0.8) ? any_air(dice) : now;
      const double seconds = dice.or_nonsense(std::exp(dice.between(0.0, 9.0)));
      piece.advance(dice.chance(0.95) ? now : any_air(dice), next, Seconds{seconds});
      stepped = stepped || (seconds > 0.0 && std::isfinite(seconds));
      const bool strange = out_of_range(next) != valid;
      now = next;
      if (dice.chance(0.005)) {
        piece.open_edges();
      }
      if (dice.chance(0.005)) {
        piece.wrap_edges();
      }
      if (dice.chance(0.01)) {
        piece.inspect(static_cast<std::size_t>(dice.between(0.0, 6.0)),
                      static_cast<Finding>(static_cast<int>(dice.between(0.0, 3.99))));
      }
      if (step % 10 == 0 || strange) {
        const PieceView view = piece.view();
        check_view(view, spec.zones.size());
        // A panel of no heat transfer under a lamp has no upper bound, but it is told to be too hot.
        REQUIRE((!stepped || view.panel <= Celsius{60.0} || (view.validity & panel_too_hot) != 0));
      }
    }
    double sum = 0.0;
    for (const double weight : piece.weights()) {
      REQUIRE(weight >= 0.0);
      sum += weight;
    }
    REQUIRE(sum == doctest::Approx(1.0));
  }
}

TEST_CASE("air outside the formulas is flagged in every zone") {
  Dice dice{42};
  PieceSpec spec;
  spec.stack.layers.push_back(
      {.name = "film", .thickness = Metres{150e-6}, .permeability = Permeability{5e-14}, .sorption = 17.0});
  spec.zones.push_back({.kind = ZoneKind::field, .water_layer = {4, 10, 25}, .edge_width = Metres{0.0}});
  Surroundings good{.air = Celsius{21.0}, .humidity = Humidity{0.5}};
  for (int i = 0; i < 2000; ++i) {
    CAPTURE(i);
    Piece piece{spec, Thresholds{}, good};
    const Surroundings next = any_air(dice);
    piece.advance(good, next, Seconds{60.0});
    const PieceView view = piece.view();
    CHECK(((view.validity & air_out_of_range) != 0) == (out_of_range(next) != valid));
    CHECK((view.zones[0].validity & air_out_of_range) == (view.validity & air_out_of_range));
  }
}

TEST_SUITE_END();
