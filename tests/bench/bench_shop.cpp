// What a shop waits for: the outlook of all its vehicles, and the replay after a restart; and how both grow.
#include <cmath>
#include <cstdint>
#include <functional>
#include <memory>
#include <string>
#include <utility>
#include <vector>

#include "compute/outlook.hpp"
#include "models/laid_piece.hpp"
#include "models/shop_belief.hpp"
#include "stopwatch.hpp"
#include "support/grid.hpp"

using namespace dryclock::models;
using dryclock::OutlookTask;
using dryclock::bench::figure;
using dryclock::bench::seconds_of;

namespace {

LaidSpec spec(std::size_t zones) {
  LaidSpec piece;
  piece.stack.layers = {
      {.name = "adhesive", .thickness = Metres{40e-6}, .permeability = Permeability{3e-14}, .sorption = 4.5},
      {.name = "film", .thickness = Metres{150e-6}, .permeability = Permeability{5e-14}, .sorption = 17.0},
      {.name = "topcoat", .thickness = Metres{10e-6}, .permeability = Permeability{1e-14}, .sorption = 15.0}};
  for (std::size_t i = 0; i < zones; ++i) {
    const ZoneKind kind = i % 3 == 0 ? ZoneKind::field : i % 3 == 1 ? ZoneKind::edge : ZoneKind::recess;
    const double water = i % 3 == 0 ? 1.0 : i % 3 == 1 ? 3.5 : 6.5;
    piece.zones.push_back({.kind = kind, .usual = GramsPerSquareMetre{water}});
  }
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
  for (const double t : dryclock::test::grid(0.0, hours * 3600.0, step)) {
    air.push_back(bay(t));
  }
  return air;
}

// The question as the daemon asks it, of one vehicle: so many pieces, laid a quarter of an hour after one
// another, through courses of five-minute air.
OutlookTask vehicle(std::size_t pieces, std::size_t zones, double hours, std::size_t courses = 1) {
  OutlookTask task;
  for (std::size_t i = 0; i < pieces; ++i) {
    const auto laid_before = 0.25 * static_cast<double>(i + 1);
    LaidPiece piece(spec(zones), bay(-3600.0 * laid_before));
    for (const double t : dryclock::test::grid(-3600.0 * laid_before, -60.0, 60.0)) {
      piece.advance(bay(t), bay(t + 60.0), Seconds{60.0});
    }
    OutlookTask::Item item{static_cast<dryclock::PieceId>(i + 1), "film", std::move(piece), {}, {}};
    item.needed.fill(true);
    task.pieces.push_back(std::move(item));
  }
  task.forecast.assign(courses, {1.0 / static_cast<double>(courses), air_of(hours, 300.0)});
  task.step = Seconds{300.0};
  task.belief = std::make_shared<ShopBelief>(ShopLevels{});
  return task;
}

double outlook_seconds(const OutlookTask& task, int vehicles, int repeats) {
  return seconds_of(
      [&] {
        for (int i = 0; i < vehicles; ++i) {
          static_cast<void>(dryclock::compute::answer(task));
        }
      },
      repeats);
}

// What the daemon runs: 6 vehicles x 30 pieces x 3 zones, 72 h of five-minute air in eleven courses.
void shop_outlook() {
  figure("shop_outlook", outlook_seconds(vehicle(30, 3, 72.0, 11), 6, 5), "s");
}

void restart() {
  const auto replay = [](double step) {
    const auto readings = air_of(72.0, step);
    return 1e3 * seconds_of(
                     [&] {
                       for (std::size_t i = 0; i < 30; ++i) {
                         LaidPiece(spec(3), bay(0.0)).advance(readings, Seconds{step});
                       }
                     },
                     9);
  };
  figure("restart", replay(10.0), "ms");  // 30 pieces, 3 days of ten-second readings
  figure("restart_by_minutes", replay(60.0), "ms");
}

// The exponent in time ~ size^exponent, by least squares over sizes 1, 2, 4, 8, 16.
double exponent(const std::function<double(std::size_t)>& seconds) {
  constexpr int doublings = 4;
  double x = 0.0, y = 0.0, xx = 0.0, xy = 0.0;
  for (int i = 0; i <= doublings; ++i) {
    const double size = i * std::log(2.0);
    const double time = std::log(seconds(std::size_t{1} << static_cast<unsigned>(i)));
    x += size;
    y += time;
    xx += size * size;
    xy += size * time;
  }
  constexpr double count = doublings + 1;
  return (count * xy - x * y) / (count * xx - x * x);
}

void growth() {
  figure("growth_zones",
         exponent([](std::size_t n) { return outlook_seconds(vehicle(8, 3 * n, 24.0), 1, 7); }), "1");
  figure("growth_pieces",
         exponent([](std::size_t n) { return outlook_seconds(vehicle(8 * n, 3, 24.0), 1, 7); }), "1");
  figure("growth_hours", exponent([](std::size_t n) {
           return outlook_seconds(vehicle(8, 3, 6.0 * static_cast<double>(n)), 1, 7);
         }),
         "1");
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
