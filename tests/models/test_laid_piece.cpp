#include "models/laid_piece.hpp"

#include <doctest/doctest.h>

#include <array>
#include <bit>
#include <cmath>
#include <cstdint>
#include <limits>
#include <vector>

#include "drying_cases.hpp"

using namespace dryclock::models;
using namespace drying_cases;

namespace {

LaidSpec bonnet_spec() {
  LaidSpec spec;
  spec.stack = baseline();
  spec.zones = {{.kind = ZoneKind::field, .usual = GramsPerSquareMetre{1.0}},
                {.kind = ZoneKind::edge, .usual = GramsPerSquareMetre{3.5}},
                {.kind = ZoneKind::recess, .usual = GramsPerSquareMetre{6.5}},
                {.kind = ZoneKind::edge, .usual = GramsPerSquareMetre{3.5}}};
  return spec;
}

void by_minutes(LaidPiece& piece, const Surroundings& bay, double hours) {
  for (int i = 0; i < static_cast<int>(60.0 * hours); ++i) {
    piece.advance(bay, bay, Seconds{minute});
  }
}

double drunk(const LaidPiece& piece, std::size_t zone) {
  const CourseTrace& trace = piece.trace(zone);
  return trace[trace.size() - 1].drunk[members / 2];
}
bool same_bits(const Lanes& a, const Lanes& b) {
  using Bits = std::array<std::uint64_t, members>;
  return std::bit_cast<Bits>(a) == std::bit_cast<Bits>(b);
}
bool same_trace(const CourseTrace& a, const CourseTrace& b) {
  if (a.size() != b.size()) return false;
  for (std::size_t i = 0; i < a.size(); ++i) {
    if (a[i].seconds != b[i].seconds || !same_bits(a[i].drunk, b[i].drunk) ||
        !same_bits(a[i].film_time, b[i].film_time) || a[i].clock != b[i].clock ||
        a[i].front_squared != b[i].front_squared)
      return false;
  }
  return true;
}

}  // namespace

TEST_SUITE_BEGIN("laid_piece");

TEST_CASE("zones in the same air share their course; a turned one lies in other air from lay on") {
  LaidSpec spec = bonnet_spec();
  spec.zones.push_back({.kind = ZoneKind::turn});
  const Surroundings bay = air(20.0, 0.5);
  LaidPiece piece(spec, bay);
  piece.advance(bay, bay, Seconds{12.0 * hour});
  CHECK(&piece.trace(0) == &piece.trace(1));
  CHECK(&piece.trace(0) == &piece.trace(2));
  CHECK(&piece.trace(0) != &piece.trace(4));
  CHECK(drunk(piece, 4) < drunk(piece, 0));
}

// How fast alcohol leaves depends on how much of it there was.
TEST_CASE("with alcohol, zones left with unlike water have courses of their own") {
  LaidSpec spec = bonnet_spec();
  spec.solution.alcohol_fraction = 0.2;
  const Surroundings bay = air(20.0, 0.5);
  LaidPiece piece(spec, bay);
  piece.advance(bay, bay, Seconds{2.0 * hour});
  CHECK(&piece.trace(1) == &piece.trace(3));
  CHECK(&piece.trace(0) != &piece.trace(1));
  CHECK(drunk(piece, 0) > drunk(piece, 2));  // little is rid of its alcohol sooner
}

TEST_CASE("points of a trace: now at its end; a minute apart, ten minutes after half an hour") {
  const Surroundings bay = air(20.0, 0.5);
  LaidPiece piece(bonnet_spec(), bay);
  CHECK(piece.trace(0).size() == 1);
  by_minutes(piece, bay, 0.5);
  CHECK(piece.trace(0).size() == 31);
  by_minutes(piece, bay, 0.25);
  CHECK(piece.trace(0)[piece.trace(0).size() - 1].seconds == about(45.0 * minute, 1e-12));
  CHECK(piece.trace(0).size() == 33);  // 40 min, and now
  by_minutes(piece, bay, 30.0);
  const CourseTrace& trace = piece.trace(0);
  CHECK(trace[trace.size() - 1].seconds == about(piece.seconds(), 1e-12));
  for (std::size_t i = 1; i + 1 < trace.size(); ++i) {
    const double apart = trace[i].seconds - trace[i - 1].seconds, at = trace[i].seconds;
    CHECK(apart == doctest::Approx(at <= 1800.0 ? 60.0 : at <= 86'400.0 ? 600.0 : 1800.0));
  }
}

TEST_CASE("a forecast at once leaves points behind it too, and drinks as by minutes") {
  const Surroundings bay = air(20.0, 0.5);
  LaidPiece one(bonnet_spec(), bay), other(bonnet_spec(), bay);
  by_minutes(one, bay, 30.0);
  other.advance(std::vector<Surroundings>(361, bay), Seconds{300.0});
  CHECK(other.seconds() == about(30.0 * hour, 1e-12));
  CHECK(other.trace(0).size() > 140);
  for (std::size_t m = 0; m < members; ++m) {
    const auto last = [m](const LaidPiece& piece) {
      return piece.trace(0)[piece.trace(0).size() - 1].drunk[m];
    };
    CHECK(last(other) == about(last(one), 1e-3));
  }
}

TEST_CASE("equal pieces are equal to the bit, and a copy goes its own way") {
  const Surroundings bay = air(18.0, 0.55);
  LaidPiece one(bonnet_spec(), bay), two(bonnet_spec(), bay);
  const LaidPiece* const all[] = {&one, &two};
  for (LaidPiece* piece : {&one, &two}) {
    by_minutes(*piece, bay, 5.0);
    piece->open_edges();
    by_minutes(*piece, bay, 1.0);
    piece->wrap_edges();
    piece->hold(ZoneKind::field, 40.0);
    by_minutes(*piece, bay, 2.0);
  }
  for (std::size_t z = 0; z < one.zones().size(); ++z) {
    CHECK(same_trace(all[0]->trace(z), all[1]->trace(z)));
    CHECK(one.margin(z) == two.margin(z));
  }
  LaidPiece copy = one;
  copy.advance(bay, bay, Seconds{24.0 * hour});
  CHECK(drunk(copy, 0) > drunk(one, 0));
  CHECK(drunk(one, 0) == drunk(two, 0));
}

TEST_CASE("edges that are wrapped go on from where they were, slower, and their front stands still") {
  const Surroundings bay = air(20.0, 0.5);
  LaidPiece flat(bonnet_spec(), bay);
  by_minutes(flat, bay, 6.0);
  LaidPiece wrapped = flat;
  wrapped.wrap_edges();
  CHECK(drunk(wrapped, 1) == drunk(flat, 1));
  const CourseTrace& before = flat.trace(1);
  const double front = before[before.size() - 1].front_squared;
  by_minutes(flat, bay, 6.0);
  by_minutes(wrapped, bay, 6.0);
  CHECK(&wrapped.trace(1) == &wrapped.trace(3));
  CHECK(&wrapped.trace(1) != &wrapped.trace(0));
  CHECK(drunk(wrapped, 1) < drunk(flat, 1));
  CHECK(drunk(wrapped, 0) == drunk(flat, 0));
  CHECK(wrapped.trace(1)[wrapped.trace(1).size() - 1].front_squared == front);
  CHECK(wrapped.trace(0)[wrapped.trace(0).size() - 1].seconds ==
        wrapped.trace(1)[wrapped.trace(1).size() - 1].seconds);
  CHECK(wrapped.trace(0).size() == wrapped.trace(1).size());
}

TEST_CASE("an edge that is opened counts as open from there, and but once") {
  const Surroundings bay = air(20.0, 0.5);
  LaidPiece piece(bonnet_spec(), bay);
  CHECK(piece.margin(0) == Margin{});
  CHECK(piece.margin(1).width == 0.005);
  CHECK(piece.margin(1).opened_at == std::numeric_limits<double>::infinity());
  CHECK(margin_at_lay(bonnet_spec().zones[0]) == piece.margin(0));
  CHECK(margin_at_lay(bonnet_spec().zones[1]) == piece.margin(1));
  by_minutes(piece, bay, 6.0);
  piece.open_edges();
  const CourseTrace& trace = piece.trace(1);
  const double front = trace[trace.size() - 1].front_squared;
  CHECK(piece.margin(1).opened_at == front);
  by_minutes(piece, bay, 1.0);
  piece.open_edges();
  CHECK(piece.margin(1).opened_at == front);
}

TEST_CASE("a zone that is held warm dries faster, its bond clock too, and the others as they were") {
  const Surroundings bay = air(20.0, 0.5);
  LaidPiece plain(bonnet_spec(), bay);
  by_minutes(plain, bay, 2.0);
  LaidPiece held = plain;
  held.hold(ZoneKind::edge, 45.0);
  by_minutes(plain, bay, 1.0);
  by_minutes(held, bay, 1.0);
  const auto clock = [](const LaidPiece& piece, std::size_t zone) {
    return piece.trace(zone)[piece.trace(zone).size() - 1].clock[0];
  };
  CHECK(drunk(held, 1) > drunk(plain, 1));
  CHECK(clock(held, 1) > clock(plain, 1) + hour);
  CHECK(drunk(held, 0) == drunk(plain, 0));
  CHECK(held.panel() == plain.panel());
  // Let go, it is soon as warm as the panel again.
  held.hold(ZoneKind::edge, std::nan(""));
  by_minutes(held, bay, 3.0);
  const double before = clock(held, 1), others_before = clock(held, 0);
  by_minutes(held, bay, 1.0);
  CHECK(clock(held, 1) - before == about(clock(held, 0) - others_before, 0.01));
}

// 300 W/m2 on a sheet that gives 8 W/(m2 K) off to the air: 37.5 K above it, by the balance of both.
TEST_CASE("a lamp on a zone warms that zone alone, and no longer than it is on") {
  const Surroundings bay = air(20.0, 0.5);
  LaidPiece plain(bonnet_spec(), bay);
  by_minutes(plain, bay, 2.0);
  LaidPiece lit = plain, everywhere = plain;
  lit.light(ZoneKind::edge, 300.0);
  Surroundings lamp = bay;
  lamp.absorbed_heat = 300.0;
  by_minutes(plain, bay, 1.0);
  by_minutes(lit, bay, 1.0);
  by_minutes(everywhere, lamp, 1.0);
  CHECK(drunk(lit, 0) == drunk(plain, 0));
  CHECK(drunk(lit, 1) == drunk(everywhere, 1));  // as if it shone on all of it
  CHECK(drunk(lit, 1) > drunk(plain, 1));
  CHECK(lit.panel() == plain.panel());
  CHECK_FALSE(lit == plain);
  lit.light(ZoneKind::edge, 0.0);
  by_minutes(lit, bay, 3.0);
  by_minutes(plain, bay, 3.0);
  const double before = drunk(lit, 1), others_before = drunk(plain, 1);
  by_minutes(lit, bay, 1.0);
  by_minutes(plain, bay, 1.0);
  CHECK(drunk(lit, 1) - before == about(drunk(plain, 1) - others_before, 0.02));
}

// Assumption: 21 C, the reference of every figure here.
TEST_CASE("a panel that nobody measured is at 21 C as it is laid") {
  CHECK(LaidPiece(bonnet_spec(), air(10.0, 0.5)).panel() == Celsius{21.0});
}

// A panel hotter than 60 C is flagged: a judgement, the film maker's data sheet wins.
TEST_CASE("a panel above 60 C is flagged, one at 60 C is not; one below the dew point dries nothing") {
  const auto flags = [](const Surroundings& bay) {
    LaidPiece piece(bonnet_spec(), bay);
    piece.advance(bay, bay, Seconds{minute});
    return piece.validity();
  };
  CHECK((flags(air(30.0, 0.3, 60.0)) & panel_too_hot) == 0);
  CHECK((flags(air(30.0, 0.3, 60.5)) & panel_too_hot) != 0);
  const Surroundings dew = air(22.0, 0.6, 8.0);
  CHECK((flags(dew) & condensing) != 0);
  LaidPiece piece(bonnet_spec(), dew);
  const double before = drunk(piece, 0);
  piece.advance(dew, dew, Seconds{12.0 * hour});
  CHECK(drunk(piece, 0) - before < 1e-9);
}

TEST_SUITE_END();
