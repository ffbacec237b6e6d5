// What one piece costs an outlook: carrying it through a forecast, when it reaches each milestone, and what
// its zones hold.
//   bench_reach
#include <cmath>
#include <cstddef>
#include <string>
#include <vector>

#include "models/piece_reach.hpp"
#include "models/shop_belief.hpp"
#include "models/usual_film.hpp"
#include "stopwatch.hpp"

using namespace dryclock::models;
using dryclock::bench::figure;
using dryclock::bench::seconds_of;

namespace {

constexpr double hour = 3600.0;

std::vector<Surroundings> forecast(double hours) {
  std::vector<Surroundings> air;
  for (int i = 0; i <= static_cast<int>(hours * 12.0); ++i) {
    const double day = 2.0 * 3.14159265358979 * i / 288.0;
    air.push_back(drying_cases::air(20.0 + 2.0 * std::sin(day), 0.52 - 0.07 * std::sin(day)));
  }
  return air;
}

LaidPiece bumper() {
  LaidSpec spec;
  spec.stack = drying_cases::baseline();
  spec.zones = {{.kind = ZoneKind::field, .usual = GramsPerSquareMetre{1.0}},
                {.kind = ZoneKind::edge, .usual = GramsPerSquareMetre{3.5}},
                {.kind = ZoneKind::recess, .usual = GramsPerSquareMetre{6.5}}};
  LaidPiece piece(spec, drying_cases::air(20.0, 0.5));
  piece.advance(forecast(2.0), Seconds{300.0});
  return piece;
}

void by_piece(int repeats) {
  const LaidPiece piece = bumper();
  const auto air = forecast(72.0);
  const auto nodes = ShopBelief({}).nodes("");
  LaidPiece ahead = piece;
  ahead.advance(air, Seconds{300.0});
  const std::size_t last = ahead.trace(0).size() - 1;
  const auto micro = [&](auto work) { return 1e6 * seconds_of(work, repeats); };

  figure("course_ahead_72h", micro([&] { LaidPiece(piece).advance(air, Seconds{300.0}); }), "us");
  // 24 points of the forecast, every milestone.
  figure("reach_all_points", micro([&] {
           PieceReach reach(ahead, {}, {});
           for (std::size_t i = 1; i <= 24; ++i) {
             for (std::size_t k = 0; k < milestone_kinds; ++k) {
               static_cast<void>(reach.chance(static_cast<Milestone>(k), last * i / 24, nodes));
             }
           }
         }),
         "us");
  // When every milestone comes to 0.1, 0.5 and 0.9, as one would look it up.
  figure("reach_by_halves", micro([&] {
           PieceReach reach(ahead, {}, {});
           for (std::size_t k = 0; k < milestone_kinds; ++k) {
             for (const double level : {0.1, 0.5, 0.9}) {
               std::size_t low = 0, high = 24;
               while (high - low > 1) {
                 const std::size_t middle = (low + high) / 2;
                 const double chance = reach.chance(static_cast<Milestone>(k), last * middle / 24, nodes);
                 (chance < level ? low : high) = middle;
               }
             }
           }
         }),
         "us");
  figure("reach_now", micro([&] {
           PieceReach reach(piece, {}, {});
           for (std::size_t k = 0; k < milestone_kinds; ++k) {
             static_cast<void>(reach.chance(static_cast<Milestone>(k), piece.trace(0).size() - 1, nodes));
           }
         }),
         "us");
  figure("zone_holds", micro([&] { static_cast<void>(zone_holds(ahead, 1, last / 4, nodes, {})); }), "us");
  figure("piece_likelihood", micro([&] {
           static_cast<void>(PieceLikelihood(
               evidence(ahead, {{0, 5.0 * hour, Sign::clear}, {1, 5.0 * hour, Sign::hazy}}), {}));
         }),
         "us");
  figure("belief_nodes", micro([&] { static_cast<void>(ShopBelief({}).nodes("")); }), "us");
}

}  // namespace

int main(int argc, char** argv) {
  if (argc > 1 && std::string(argv[1]) != "reach") return 0;
  dryclock::bench::pin();
  by_piece(9);
}
