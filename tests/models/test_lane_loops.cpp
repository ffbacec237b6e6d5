// The loops over members at every width that this processor has: the scalar path against the packs.
#include "models/lane_loops.hpp"

#include <doctest/doctest.h>

#include <cstring>
#include <random>
#include <vector>

#include "drying_cases.hpp"
#include "models/piece.hpp"

using namespace dryclock::models;
using namespace drying_cases;

namespace {

class WidthKept {
 public:
  WidthKept() : width_(lane_width()) {}
  WidthKept(const WidthKept&) = delete;
  WidthKept& operator=(const WidthKept&) = delete;
  ~WidthKept() { use_lane_width(width_); }

 private:
  std::size_t width_;
};

// What a random piece shows over two days of random air: every number that left a loop.
std::vector<double> shown(std::uint64_t seed) {
  std::mt19937_64 random(seed);
  const auto between = [&](double low, double high) {
    return low + (high - low) * static_cast<double>(random() >> 11U) * 0x1p-53;
  };
  PieceSpec spec;
  spec.stack = baseline();
  spec.stack.ln_resistance_spread = between(0.0, 1.0);
  const double wet = between(0.5, 20.0);
  spec.zones = {{ZoneKind::field, {0.4 * wet, wet, 2.5 * wet}},
                {ZoneKind::edge, {0.4 * wet, wet, 2.5 * wet}}};
  spec.solution.alcohol_fraction = seed % 3 == 0 ? between(0.0, 0.3) : 0.0;
  spec.break_up = GramsPerSquareMetre{seed % 4 == 0 ? 0.0 : between(0.2, 3.0)};
  spec.seed = seed;
  Surroundings from = air(between(5.0, 35.0), between(0.2, 0.9));
  Piece piece(spec, {}, from);
  std::vector<double> all;
  for (int i = 0; i < 100; ++i) {
    const Surroundings to = air(between(5.0, 35.0), between(0.2, 0.9));
    piece.advance(from, to, Seconds{between(1.0, 3600.0)});
    from = to;
    for (const ZoneView& zone : piece.view().zones) {
      for (const Quantiles& q : {zone.water, zone.excess, zone.bond, zone.hours_to_go}) {
        all.insert(all.end(), {q.low, q.likely, q.high});
      }
    }
  }
  const MemberTimes times = piece.look_ahead(std::vector<Surroundings>(300, from), Seconds{300.0});
  for (const Lanes& lanes : times) {
    all.insert(all.end(), lanes.begin(), lanes.end());
  }
  return all;
}

}  // namespace

TEST_SUITE_BEGIN("identities");

TEST_CASE("every width of packs gives the bits of one lane at a time") {
  const WidthKept kept;
  int widths = 0;
  for (std::uint64_t seed = 1; seed <= 24; ++seed) {
    CAPTURE(seed);
    REQUIRE(use_lane_width(8));
    const std::vector<double> scalar = shown(seed);
    for (const std::size_t width : {std::size_t{16}, std::size_t{32}, std::size_t{64}}) {
      if (!use_lane_width(width)) continue;
      CAPTURE(width);
      ++widths;
      const std::vector<double> packed = shown(seed);
      REQUIRE(packed.size() == scalar.size());
      CHECK(std::memcmp(packed.data(), scalar.data(), scalar.size() * sizeof(double)) == 0);
    }
  }
  CHECK(widths >= 24);
}

TEST_CASE("a width that no processor has is refused") {
  const WidthKept kept;
  CHECK_FALSE(use_lane_width(24));
  CHECK_FALSE(use_lane_width(128));
}

TEST_SUITE_END();
