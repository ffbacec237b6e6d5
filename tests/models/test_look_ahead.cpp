// Looking ahead in blocks, against the same piece taken from reading to reading in steps of twenty seconds.
#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <random>
#include <vector>

#include "drying_cases.hpp"
#include "models/piece.hpp"
#include "support/grid.hpp"

using namespace dryclock::models;
using namespace drying_cases;

namespace {

constexpr double never_there = std::numeric_limits<double>::infinity();
constexpr double fine_step = 20.0;       // s
constexpr double forecast_step = 300.0;  // s, the daemon's

PieceSpec piece_spec(std::uint64_t seed, double wet, double alcohol) {
  PieceSpec spec;
  spec.stack = baseline();
  spec.zones = {{ZoneKind::field, {0.4 * wet, wet, 2.5 * wet}},
                {ZoneKind::edge, {0.4 * wet, wet, 2.5 * wet}},
                {ZoneKind::recess, {wet, 2.0 * wet, 5.0 * wet}}};
  spec.solution.alcohol_fraction = alcohol;
  spec.seed = seed;
  return spec;
}

enum class Unrest { steady, day, cold_night, heater, door };

// Three days of a bay as a forecast may have it.
std::vector<Surroundings> bay(Unrest unrest) {
  std::vector<Surroundings> all;
  for (const double t : dryclock::test::grid(0.0, 72.0 * 3600.0, forecast_step)) {
    const double day = 2.0 * 3.14159265358979 * t / 86'400.0;
    double air_c = 21.0, humidity = 0.5;
    if (unrest != Unrest::steady) {
      air_c += 2.0 * std::sin(day);
      humidity -= 0.07 * std::sin(day);
    }
    if (unrest == Unrest::cold_night) {
      air_c = 12.0 + 8.0 * std::cos(day);
      humidity = 0.65 - 0.15 * std::cos(day);
    }
    if (unrest == Unrest::heater) {  // every 40 minutes
      const double cycle = 2.0 * 3.14159265358979 * t / 2400.0;
      air_c += std::sin(cycle);
      humidity -= 0.03 * std::sin(cycle);
    }
    if (unrest == Unrest::door && std::fmod(t, 7200.0) < 600.0) {  // open, gusts of outdoor air
      air_c -= 6.0;
      humidity += 0.15;
    }
    all.push_back(air(air_c, humidity));
  }
  return all;
}

// What a person can see of a moment: chances are counted on the forecast's own grid of five minutes, each
// moment rounded up to it (daemon/compute/outlook.cpp), and early to late lie hours apart. So whatever the
// air does, a member may be off by one step of that grid.
constexpr double one_step_seen = forecast_step;  // s

// The first moments by steps of twenty seconds: each is at most that much late.
MemberTimes by_fine_steps(Piece piece, const std::vector<Surroundings>& forecast) {
  MemberTimes first;
  for (Lanes& lanes : first) {
    lanes.fill(never_there);
  }
  const int pieces = static_cast<int>(forecast_step / fine_step);
  double now = 0.0;
  const auto note = [&] {
    bool all = true;
    for (std::size_t m = 0; m < members; ++m) {
      for (std::size_t k = 0; k < milestone_kinds; ++k) {
        if (((static_cast<unsigned>(piece.reached()[m]) >> k) & 1U) != 0)
          first[k][m] = std::min(first[k][m], now);
        all = all && first[k][m] < never_there;
      }
    }
    return all;
  };
  bool all = note();
  for (std::size_t i = 1; i < forecast.size() && !all; ++i) {
    for (int j = 0; j < pieces && !all; ++j) {
      piece.advance(between(forecast[i - 1], forecast[i], static_cast<double>(j) / pieces),
                    between(forecast[i - 1], forecast[i], static_cast<double>(j + 1) / pieces),
                    Seconds{fine_step});
      now += fine_step;
      all = note();
    }
  }
  return first;
}

}  // namespace

TEST_SUITE_BEGIN("identities");

TEST_CASE("member by member and milestone by milestone as by fine steps") {
  double sum = 0.0, count = 0.0;
  for (const Unrest unrest :
       {Unrest::steady, Unrest::day, Unrest::cold_night, Unrest::heater, Unrest::door}) {
    double worst = 0.0;
    const auto forecast = bay(unrest);
    for (const double wet : {1.0, 4.0, 10.0}) {
      for (const double alcohol : {0.0, 0.1}) {
        if (alcohol > 0.0 && wet != 4.0) continue;
        CAPTURE(static_cast<int>(unrest));
        CAPTURE(wet);
        CAPTURE(alcohol);
        const Piece piece(piece_spec(static_cast<std::uint64_t>(wet), wet, alcohol), {}, forecast.front());
        const MemberTimes ahead = piece.look_ahead(forecast, Seconds{forecast_step});
        const MemberTimes fine = by_fine_steps(piece, forecast);
        for (std::size_t k = 0; k < milestone_kinds; ++k) {
          for (std::size_t m = 0; m < members; ++m) {
            CAPTURE(k);
            CAPTURE(m);
            CAPTURE(fine[k][m]);
            if (fine[k][m] == never_there && ahead[k][m] == never_there) continue;
            // What one reaches in the last minutes of the forecast the other may miss.
            if (std::min(fine[k][m], ahead[k][m]) > 72.0 * 3600.0 - 60.0) continue;
            const double off = std::abs(ahead[k][m] - (fine[k][m] - 0.5 * fine_step));
            CHECK(off <= one_step_seen);
            worst = std::max(worst, off);
            sum += off;
            ++count;
          }
        }
      }
    }
    MESSAGE("air " << static_cast<int>(unrest) << ": worst " << worst << " s");
  }
  MESSAGE("mean " << sum / count << " s of " << count);
}

TEST_SUITE_END();
