// What a shop waits for: the outlook of all its pieces, and the replay after a restart; and how both grow.
#include <cmath>
#include <cstdint>
#include <string>
#include <vector>

#include "models/lanes.hpp"
#include "models/look_ahead.hpp"
#include "models/piece.hpp"
#include "stopwatch.hpp"

using namespace dryclock::models;
using dryclock::bench::figure;
using dryclock::bench::seconds_of;

namespace {

PieceSpec spec(std::uint64_t seed, std::size_t zones = 3) {
  PieceSpec piece;
  piece.stack.layers = {
      {.name = "adhesive", .thickness = Metres{40e-6}, .permeability = Permeability{3e-14}, .sorption = 4.5},
      {.name = "film", .thickness = Metres{150e-6}, .permeability = Permeability{5e-14}, .sorption = 17.0},
      {.name = "topcoat", .thickness = Metres{10e-6}, .permeability = Permeability{1e-14}, .sorption = 15.0}};
  for (std::size_t i = 0; i < zones; ++i) {
    const ZoneKind kind = i % 3 == 0 ? ZoneKind::field : i % 3 == 1 ? ZoneKind::edge : ZoneKind::recess;
    const Range water = i % 3 == 2 ? Range{20, 40, 100} : Range{4, 10, 25};
    piece.zones.push_back({.kind = kind, .water_layer = water});
  }
  piece.seed = seed;
  return piece;
}

// A bay: 19 to 23 C over the day, 45 to 60 %RH, with the small unrest that real air has.
Surroundings bay(double seconds) {
  const double day = 2.0 * 3.14159265358979 * seconds / 86'400.0;
  Surroundings air;
  air.air = Celsius{21.0 + 2.0 * std::sin(day) + 0.1 * std::sin(317.0 * day)};
  air.humidity = Humidity{0.52 - 0.07 * std::sin(day) + 0.01 * std::sin(211.0 * day)};
  return air;
}

std::vector<Surroundings> air_of(double hours, double step) {
  std::vector<Surroundings> air;
  for (double t = 0.0; t <= hours * 3600.0 + 0.5; t += step) {
    air.push_back(bay(t));
  }
  return air;
}

std::vector<Piece> pieces(std::size_t count, std::size_t zones = 3) {
  std::vector<Piece> all;
  for (std::size_t i = 0; i < count; ++i) {
    all.emplace_back(spec(i + 1, zones), Thresholds{}, bay(0.0));
  }
  return all;
}

double outlook_seconds(std::size_t count, std::size_t zones, double hours, int repeats) {
  const auto start = pieces(count, zones);
  const auto forecast = air_of(hours, 300.0);
  return seconds_of(
      [&] {
        for (const Piece& piece : start) {
          static_cast<void>(look_ahead(piece, forecast, Seconds{300.0}));
        }
      },
      repeats);
}

void replay(std::size_t count, const std::vector<Surroundings>& air, double step) {
  auto all = pieces(count);
  for (Piece& piece : all) {
    piece.advance(air, Seconds{step});
  }
}

// Slope of ln time over ln size, first against last of four doublings.
double slope(double first, double last) {
  return std::log(last / first) / std::log(16.0);
}

void shop_outlook() {
  // 6 vehicles x 30 pieces x 3 zones, 72 h of five-minute air; a piece carries 32 members.
  const double once = outlook_seconds(180, 3, 72.0, 3);
  figure("shop_outlook_32_members", once, "s");
  // 128 members are four such sets of 32.
  figure("shop_outlook_128_members", outlook_seconds(4 * 180, 3, 72.0, 1), "s");
}

void restart() {
  const auto readings = air_of(72.0, 10.0);
  figure("restart_30_pieces_3_days_10_s", seconds_of([&] { replay(30, readings, 10.0); }, 3) * 1e3, "ms");
  const auto minutes = air_of(72.0, 60.0);
  figure("restart_30_pieces_3_days_60_s", seconds_of([&] { replay(30, minutes, 60.0); }, 3) * 1e3, "ms");
  const auto five = air_of(72.0, 300.0);
  figure("restart_30_pieces_3_days_300_s", seconds_of([&] { replay(30, five, 300.0); }, 3) * 1e3, "ms");
}

void growth() {
  figure("growth_pieces_slope", slope(outlook_seconds(4, 3, 24.0, 5), outlook_seconds(64, 3, 24.0, 5)), "1");
  figure("growth_zones_slope", slope(outlook_seconds(8, 3, 24.0, 5), outlook_seconds(8, 48, 24.0, 5)), "1");
  figure("growth_hours_slope", slope(outlook_seconds(8, 3, 6.0, 5), outlook_seconds(8, 3, 96.0, 5)), "1");
}

}  // namespace

int main(int argc, char** argv) {
  dryclock::bench::pin();
  const std::string only = argc > 1 ? argv[1] : "";
  const auto run = [&](const char* name, void (*measure)()) {
    if (only.empty() || only == name) {
      measure();
    }
  };
  run("shop_outlook", shop_outlook);
  run("restart", restart);
  run("growth", growth);
}
