#include "models/piece.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <random>

#include "drying_cases.hpp"
#include "models/ensemble.hpp"

using namespace dryclock::models;
using namespace drying_cases;

namespace {

constexpr double minute = 60.0;
constexpr double hour = 3600.0;

PieceSpec bonnet() {
  PieceSpec spec;
  spec.stack = baseline();
  spec.zones = {{ZoneKind::field, {1.0, 3.0, 8.0}}, {ZoneKind::edge, {1.5, 4.0, 10.0}}};
  spec.seed = 7;
  return spec;
}

double chance(const PieceView& view, Milestone milestone) {
  return view.probability[static_cast<std::size_t>(milestone)];
}

// Hours until the middle of the members is there.
double likely(const Piece& piece, const std::vector<Surroundings>& forecast, double step_hours,
              std::size_t milestone) {
  const MemberTimes times = piece.look_ahead(forecast, Seconds{step_hours * hour});
  return weighted_quantiles(times[milestone], piece.weights()).likely / hour;
}

std::vector<Surroundings> constant(const Surroundings& bay, std::size_t entries) {
  return std::vector<Surroundings>(entries, bay);
}

void check_numbers(const PieceView& view) {
  const auto ordered = [](const Quantiles& q) {
    CHECK(q.low <= q.likely);
    CHECK(q.likely <= q.high);
    CHECK(std::isfinite(q.low));
    CHECK(std::isfinite(q.high));
    CHECK(q.low >= 0.0);
  };
  for (const ZoneView& zone : view.zones) {
    ordered(zone.water);
    ordered(zone.excess);
    ordered(zone.bond);
    ordered(zone.hours_to_go);
    CHECK(zone.excess.high <= 1.0);
    CHECK(zone.bond.high <= 1.0);
    CHECK(zone.dry_probability >= 0.0);
    CHECK(zone.dry_probability <= 1.0 + 1e-12);
  }
  for (const double probability : view.probability) {
    CHECK(probability >= 0.0);
    CHECK(probability <= 1.0 + 1e-12);
  }
}

}  // namespace

TEST_SUITE_BEGIN("practice");

// Common practice, no source.
TEST_CASE("a bonnet laid in the afternoon in a heated shop can have its edges wrapped next morning") {
  const Surroundings shop = air(20.0, 0.45);
  Piece piece(bonnet(), {}, shop);
  piece.advance(shop, shop, Seconds{3.0 * hour});
  CHECK(chance(piece.view(), Milestone::wrap_ready) < 0.5);  // 18:00: not yet
  piece.advance(shop, shop, Seconds{14.0 * hour});
  CHECK(chance(piece.view(), Milestone::wrap_ready) > 0.5);  // 08:00: more likely than not
}

// Common practice, no source.
TEST_CASE("a tight recess is still moist next morning and clears over days") {
  PieceSpec spec = bonnet();
  spec.zones.push_back({ZoneKind::recess, {20.0, 40.0, 100.0}});
  const Surroundings shop = air(20.0, 0.45);
  Piece piece(spec, {}, shop);
  piece.advance(shop, shop, Seconds{17.0 * hour});
  CHECK(piece.view().zones[2].dry_probability < 0.2);
  CHECK(piece.view().limiting_zone[static_cast<std::size_t>(Milestone::dry)] == 2);
  piece.advance(shop, shop, Seconds{7.0 * 24.0 * hour});
  CHECK(piece.view().zones[2].dry_probability > 0.8);
}

// Common practice, no source.
TEST_CASE("an opened edge dries faster") {
  const Surroundings shop = air(20.0, 0.45);
  PieceSpec spec = bonnet();
  spec.zones[1].water_layer = {20.0, 40.0, 100.0};
  Piece pressed(spec, {}, shop);
  Piece opened(spec, {}, shop);
  opened.open_edges();
  CHECK(opened.view().zones[1].hours_to_go.likely <= pressed.view().zones[1].hours_to_go.likely);
  pressed.advance(shop, shop, Seconds{30.0 * hour});
  opened.advance(shop, shop, Seconds{30.0 * hour});
  CHECK(opened.view().zones[1].water.likely < 0.75 * pressed.view().zones[1].water.likely);
}

TEST_CASE("a wrapped edge dries slower, a cold night slower still") {
  const Surroundings shop = air(20.0, 0.45);
  const Surroundings cold = air(8.0, 0.8);
  PieceSpec spec = bonnet();
  spec.zones[1].water_layer = {20.0, 40.0, 100.0};
  Piece flat(spec, {}, shop);
  Piece turned(spec, {}, shop);
  Piece outside(spec, {}, shop);
  turned.wrap_edges();
  flat.advance(shop, shop, Seconds{24.0 * hour});
  turned.advance(shop, shop, Seconds{24.0 * hour});
  outside.advance(cold, cold, Seconds{24.0 * hour});
  CHECK(turned.view().zones[1].water.likely > flat.view().zones[1].water.likely);
  CHECK(outside.view().zones[1].water.likely > turned.view().zones[1].water.likely);
}

TEST_SUITE_END();
TEST_SUITE_BEGIN("identities");

TEST_CASE("a piece whose members are alike is one zone on the fine grid") {
  PieceSpec spec = bonnet();
  spec.stack.ln_resistance_spread = 0.0;
  spec.zones = {{ZoneKind::field, {6.0, 6.0, 6.0}}};
  const Surroundings bay = air(17.0, 0.6, 17.0);
  Piece piece(spec, {}, bay);
  FilmStackSolver film(spec.stack, WaterLayer{spec.break_up, GramsPerSquareMetre{0.05}},
                       GramsPerSquareMetre{6.0}, still_bay, bay);
  for (int i = 0; i < 30; ++i) {
    piece.advance(bay, bay, Seconds{hour});
    film.advance(bay, bay, Seconds{hour});
    CHECK(std::abs(piece.view().zones[0].water.likely - film.water()) < 6.0 * 0.001);
    CHECK(piece.view().zones[0].water.low == about(piece.view().zones[0].water.high, 1e-12));
  }
}

TEST_CASE("minutes or hours: the answer is the same") {
  const Surroundings from = air(19.0, 0.5, 19.0);
  const Surroundings to = air(16.0, 0.6, 16.5);
  Piece hours(bonnet(), {}, from);
  Piece minutes(bonnet(), {}, from);
  for (int h = 0; h < 8; ++h) {
    const Surroundings a = between(from, to, h / 8.0);
    const Surroundings b = between(from, to, (h + 1) / 8.0);
    hours.advance(a, b, Seconds{hour});
    for (int m = 0; m < 60; ++m) {
      minutes.advance(between(a, b, m / 60.0), between(a, b, (m + 1) / 60.0), Seconds{minute});
    }
    const PieceView one = hours.view();
    const PieceView other = minutes.view();
    for (std::size_t z = 0; z < one.zones.size(); ++z) {
      CHECK(one.zones[z].water.likely == doctest::Approx(other.zones[z].water.likely).epsilon(1e-8));
      // A front starts infinitely fast (sqrt t), so within its first steps it is not resolved in time.
      CHECK(std::abs(one.zones[z].excess.likely - other.zones[z].excess.likely) < 3e-4);
      CHECK(std::abs(one.zones[z].bond.likely - other.zones[z].bond.likely) < 1e-3);
    }
  }
}

TEST_CASE("the same input gives the same bits, and a copy goes its own way") {
  const Surroundings bay = air(18.0, 0.55);
  Piece one(bonnet(), {}, bay);
  Piece two(bonnet(), {}, bay);
  for (int i = 0; i < 600; ++i) {
    one.advance(bay, bay, Seconds{minute});
    two.advance(bay, bay, Seconds{minute});
  }
  Piece copy = one;
  copy.advance(bay, bay, Seconds{24.0 * hour});
  CHECK(one.view().zones[0].water.likely == two.view().zones[0].water.likely);
  CHECK(one.view().zones[1].excess.high == two.view().zones[1].excess.high);
  CHECK(copy.view().zones[1].water.likely < one.view().zones[1].water.likely);
  CHECK(one.reached() == two.reached());
}

TEST_CASE("drier air, less water, a warmer panel: no milestone later, for no member") {
  const auto times = [](double humidity, double panel, double water) {
    PieceSpec spec = bonnet();
    spec.zones[0].water_layer = spec.zones[1].water_layer = {0.3 * water, water, 2.5 * water};
    // Air of the same vapour pressure whatever the panel.
    const Surroundings bay = air(18.0, humidity, panel);
    return Piece(spec, {}, bay).look_ahead(constant(bay, 400), Seconds{0.5 * hour});
  };
  const MemberTimes usual = times(0.55, 18.0, 3.0);
  const MemberTimes drier = times(0.40, 18.0, 3.0);
  const MemberTimes warmer = times(0.55, 22.0, 3.0);
  const MemberTimes wetter = times(0.55, 18.0, 6.0);
  for (std::size_t k = 0; k < milestone_kinds; ++k) {
    for (std::size_t m = 0; m < members; ++m) {
      CHECK(drier[k][m] <= usual[k][m]);
      CHECK(warmer[k][m] <= usual[k][m]);
      CHECK(wetter[k][m] >= usual[k][m]);
    }
  }
}

TEST_CASE("the same through random nights with jumps and ramps") {
  for (unsigned seed = 1; seed <= 12; ++seed) {
    CAPTURE(seed);
    std::mt19937 random(seed);
    const auto draw = [&](double low, double high) {
      return std::uniform_real_distribution<>{low, high}(random);
    };
    std::vector<Surroundings> usual, drier, warmer;
    while (usual.size() < 400) {
      const double air_c = draw(8.0, 26.0), humidity = draw(0.3, 0.75), panel_c = air_c + draw(-1.0, 3.0);
      for (int i = static_cast<int>(draw(1.0, 12.0)); i > 0; --i) {  // half hours until the next jump
        usual.push_back(air(air_c, humidity, panel_c));
        drier.push_back(air(air_c, humidity - 0.05, panel_c));
        warmer.push_back(air(air_c, humidity, panel_c + 1.0));  // the same vapour pressure
      }
    }
    const auto times = [&](const std::vector<Surroundings>& bay, double water) {
      PieceSpec spec = bonnet();
      spec.zones[0].water_layer = spec.zones[1].water_layer = {0.3 * water, water, 2.5 * water};
      return Piece(spec, {}, bay.front()).look_ahead(bay, Seconds{0.5 * hour});
    };
    const MemberTimes first = times(usual, 3.0), dry = times(drier, 3.0), warm = times(warmer, 3.0),
                      wet = times(usual, 4.0);
    for (std::size_t k = 0; k < milestone_kinds; ++k) {
      for (std::size_t m = 0; m < members; ++m) {
        CHECK(dry[k][m] <= first[k][m]);
        CHECK(warm[k][m] <= first[k][m]);
        CHECK(wet[k][m] >= first[k][m]);
      }
    }
  }
}

TEST_CASE("looking ahead meets what then happens") {
  const Surroundings bay = air(20.0, 0.5);
  Piece piece(bonnet(), {}, bay);
  const double then = likely(piece, constant(bay, 200), 1.0, static_cast<std::size_t>(Milestone::wrap_ready));
  REQUIRE(std::isfinite(then));
  piece.advance(bay, bay, Seconds{(then - 1.0) * hour});
  CHECK(chance(piece.view(), Milestone::wrap_ready) < 0.55);
  piece.advance(bay, bay, Seconds{2.0 * hour});
  CHECK(chance(piece.view(), Milestone::wrap_ready) > 0.45);
  // A forecast too short to get there says so.
  CHECK(std::isinf(
      likely(Piece(bonnet(), {}, bay), constant(bay, 3), 1.0, static_cast<std::size_t>(Milestone::dry))));
}

TEST_CASE("standard hours to go fall with the pace") {
  const Surroundings standard = air(21.0, 0.5, 21.0);
  PieceSpec spec = bonnet();
  spec.zones = {{ZoneKind::field, {8.0, 12.0, 20.0}}};
  Piece piece(spec, {}, standard);
  const double before = piece.view().zones[0].hours_to_go.likely;
  piece.advance(standard, standard, Seconds{5.0 * hour});
  CHECK(before - piece.view().zones[0].hours_to_go.likely == about(5.0, 0.01));
}

TEST_CASE("inspections move the estimate and can be wrong") {
  const Surroundings bay = air(20.0, 0.5);
  Piece piece(bonnet(), {}, bay);
  piece.advance(bay, bay, Seconds{8.0 * hour});
  const double before = piece.view().zones[0].dry_probability;
  Piece clear = piece;
  Piece wet = piece;
  clear.inspect(0, Finding::clear);
  wet.inspect(0, Finding::wet);
  CHECK(clear.view().zones[0].dry_probability > before);
  CHECK(wet.view().zones[0].dry_probability < before);
  // The hand and the film are shared: what the field shows says something about the edge.
  CHECK(wet.view().zones[1].water.likely > clear.view().zones[1].water.likely);
  for (int i = 0; i < 50; ++i) {
    wet.inspect(0, Finding::wet);
  }
  for (const double weight : wet.weights()) {
    CHECK(weight > 0.0);
  }
  wet.inspect(9, Finding::clear);  // no such zone: nothing happens
  Piece lifting = piece;
  lifting.inspect(0, Finding::lifting);
  CHECK(lifting.view().zones[0].bond.likely <= piece.view().zones[0].bond.likely);
}

TEST_CASE("bits, probabilities and weights agree") {
  const Surroundings bay = air(20.0, 0.5);
  Piece piece(bonnet(), {}, bay);
  for (int i = 0; i < 40; ++i) {
    piece.advance(bay, bay, Seconds{hour});
    const PieceView view = piece.view();
    double sum[milestone_kinds] = {};
    for (std::size_t m = 0; m < piece.reached().size(); ++m) {
      for (std::size_t k = 0; k < milestone_kinds; ++k) {
        if ((static_cast<unsigned>(piece.reached()[m]) >> k & 1U) != 0) sum[k] += piece.weights()[m];
      }
      const bool refit = (static_cast<unsigned>(piece.reached()[m]) >> 2 & 1U) != 0;
      const bool dry = (static_cast<unsigned>(piece.reached()[m]) >> 3 & 1U) != 0;
      CHECK((refit || !dry));
    }
    for (std::size_t k = 0; k < milestone_kinds; ++k) {
      CHECK(std::abs(view.probability[k] - sum[k]) < 1e-12);
    }
  }
}

TEST_CASE("a panel below the dew point is flagged, and nothing dries") {
  const Surroundings bay = air(22.0, 0.6, 8.0);
  Piece piece(bonnet(), {}, bay);
  const double before = piece.view().zones[0].water.likely;
  piece.advance(bay, bay, Seconds{12.0 * hour});
  CHECK((piece.view().validity & condensing) != 0);
  CHECK(piece.view().zones[0].water.likely == about(before, 1e-9));
}

TEST_CASE("alcohol in the solution leaves less water to dry") {
  const Surroundings bay = air(21.0, 0.5, 21.0);
  PieceSpec spec = bonnet();
  spec.zones = {{ZoneKind::field, {10.0, 10.0, 10.0}}};
  spec.stack.ln_resistance_spread = 0.0;
  const Piece water(spec, {}, bay);
  spec.solution.alcohol_fraction = 0.2;
  const Piece tack(spec, {}, bay);
  const auto hours = [&](const Piece& piece) { return likely(piece, constant(bay, 400), 0.1, 2); };
  CHECK(hours(tack) < hours(water));
  CHECK(hours(tack) > 0.8 * hours(water));
}

TEST_CASE("whatever comes in, numbers come out, flagged") {
  std::mt19937 random(99);
  const double nan = std::numeric_limits<double>::quiet_NaN();
  const double infinite = std::numeric_limits<double>::infinity();
  const auto wild = [&](double low, double high) {
    switch (std::uniform_int_distribution<>{0, 9}(random)) {
      case 0:
        return nan;
      case 1:
        return infinite;
      case 2:
        return -infinite;
      case 3:
        return 0.0;
      case 4:
        return -high;
      case 5:
        return 1e300;
      default:
        return std::uniform_real_distribution<>{low, high}(random);
    }
  };
  for (int i = 0; i < 200; ++i) {
    PieceSpec spec;
    const int layers = std::uniform_int_distribution<>{0, 4}(random);
    for (int l = 0; l < layers; ++l) {
      spec.stack.layers.push_back(layer(wild(1, 300), wild(0, 1e-12), wild(0, 30), wild(0, 60e3)));
    }
    spec.stack.ln_resistance_spread = wild(0, 1);
    spec.solution.alcohol_fraction = wild(0, 0.6);
    spec.panel.heat_capacity = wild(0, 5000);
    spec.panel.body_heat_capacity = wild(0, 1e5);
    spec.panel.body_transfer = HeatTransfer{wild(0, 10)};
    spec.break_up = GramsPerSquareMetre{wild(0, 5)};
    spec.air_layer_coefficient = wild(0, 0.01);
    spec.panel_at_lay = Celsius{wild(-20, 60)};
    spec.seed = random();
    const int zones = std::uniform_int_distribution<>{0, 4}(random);
    for (int z = 0; z < zones; ++z) {
      spec.zones.push_back(
          {static_cast<ZoneKind>(z), {wild(0, 5), wild(0, 20), wild(0, 100)}, Metres{wild(0, 0.02)}});
    }
    const auto wild_air = [&] {
      Surroundings s = air(wild(-30, 60), wild(0, 1), wild(-30, 90));
      s.absorbed_heat = wild(0, 800);
      s.air_speed = wild(0, 5);
      return s;
    };
    Surroundings last = wild_air();
    Piece piece(spec, {}, last);
    for (int step = 0; step < 30; ++step) {
      const Surroundings next = wild_air();
      piece.advance(last, next, Seconds{wild(1, 7200)});
      last = next;
      if (step == 10) piece.open_edges();
      if (step == 20) piece.wrap_edges();
    }
    CAPTURE(i);
    check_numbers(piece.view());
    CHECK(std::isfinite(piece.view().panel.value()));
  }
  Piece piece(bonnet(), {}, air(20.0, 0.5));
  piece.advance(air(nan, 0.5), air(20.0, 0.5), Seconds{60.0});
  CHECK((piece.view().validity & air_out_of_range) != 0);
}

TEST_SUITE_END();
