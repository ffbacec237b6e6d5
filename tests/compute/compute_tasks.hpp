// Questions of the kind that the engine asks, for the tests of this folder.
#pragma once

#include <chrono>
#include <string>
#include <utility>
#include <vector>

#include "domain/outlook.hpp"
#include "models/shop_levels.hpp"

namespace dryclock::test {

inline const Time now = from_unix_ms(1'772'366'400'000);
inline const models::ShopLevels levels;

// Places of milestones in lists by milestone.
inline constexpr auto wrap = static_cast<std::size_t>(models::Milestone::wrap_ready);
inline constexpr auto leave = static_cast<std::size_t>(models::Milestone::may_leave);

inline models::Surroundings air(double celsius, double humidity) {
  models::Surroundings s;
  s.air = models::Celsius{celsius};
  s.humidity = models::Humidity{humidity};
  return s;
}

inline models::FilmStack baseline() {
  models::FilmStack stack;
  stack.layers = {{"adhesive", models::Metres{40e-6}, models::Permeability{3e-14}, 4.5, 13'000.0},
                  {"film", models::Metres{150e-6}, models::Permeability{5e-14}, 17.0, 13'000.0},
                  {"topcoat", models::Metres{10e-6}, models::Permeability{1e-14}, 15.0, 13'000.0}};
  return stack;
}

// A field and its edge, laid by usual hands (design: priors); `times` as much water.
inline models::LaidSpec spec(double times = 1.0) {
  models::LaidSpec spec;
  spec.stack = baseline();
  spec.zones = {{.kind = models::ZoneKind::field, .usual = models::GramsPerSquareMetre{1.0 * times}},
                {.kind = models::ZoneKind::edge, .usual = models::GramsPerSquareMetre{3.5 * times}}};
  return spec;
}

// Laid `before` ago in air of 21 C and 50 %RH, and in it since.
inline models::LaidPiece piece(double times = 1.0, std::chrono::minutes before = {}) {
  models::LaidPiece piece(spec(times), air(21.0, 0.5));
  if (before.count() > 0) {
    const std::vector readings(static_cast<std::size_t>(before.count()) + 1, air(21.0, 0.5));
    piece.advance(readings, models::Seconds{60.0});
  }
  return piece;
}

inline OutlookTask::Item item(PieceId id, double times = 1.0, std::chrono::minutes before = {}) {
  OutlookTask::Item item{.id = id, .film = "film", .piece = piece(times, before), .needed = {}, .said = {}};
  item.needed.fill(true);
  return item;
}

constexpr double forecast_step = 600.0;  // s

inline OutlookTask task_of(std::vector<OutlookTask::Item> pieces,
                           std::chrono::hours length = std::chrono::hours{240}) {
  OutlookTask task;
  task.vehicle = 7;
  task.now = now;
  task.revision = 42;
  task.pieces = std::move(pieces);
  task.forecast = {
      {1.0, std::vector(static_cast<std::size_t>(length / std::chrono::minutes{10}) + 1, air(21.0, 0.5))}};
  task.step = models::Seconds{forecast_step};
  task.earliest_release = now;
  return task;
}

}  // namespace dryclock::test
