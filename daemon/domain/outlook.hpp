// The question "when will it be ready?" and its answer: made by the engine from copies, answered elsewhere.
#pragma once

#include <array>
#include <optional>
#include <vector>

#include "domain/event.hpp"
#include "domain/view.hpp"
#include "models/catalogue.hpp"
#include "models/piece.hpp"

namespace dryclock {

// One vehicle's look ahead: see Piece::look_ahead in models/piece.hpp.
struct OutlookTask {
  struct Item {
    PieceId id = 0;
    models::Piece piece;
  };
  VehicleId vehicle = 0;
  Time now;
  Seq revision = 0;  // an answer to an older revision is dropped
  // The bay's air as it may become: each course has its weight, and they sum to 1.
  struct Course {
    double weight = 1.0;
    std::vector<models::Surroundings> air;  // every `step` from now on
  };
  std::vector<Item> pieces;
  // Planned and not laid yet: for the release, as if laid now.
  struct ToLay {
    PlannedPiece piece;
    models::PieceSpec spec;
  };
  std::vector<ToLay> to_lay;
  std::vector<Course> forecast;  // courses of the same length
  models::Seconds step{300.0};
  Time earliest_release;  // last piece laid (now, where one is still to lay) + least indoor time
  models::Thresholds thresholds;
  Millis least_indoor{};
  double announce_level = 0.90;
  std::optional<Time> hand_over;  // agreed
};

struct OutlookAnswer {
  VehicleId vehicle = 0;
  Seq revision = 0;
  struct Item {
    PieceId id = 0;
    std::array<Spread, models::milestone_kinds> expected;
  };
  std::vector<Item> pieces;
  std::vector<PieceToLay> to_lay;  // in the task's order
  Spread release;
  double hand_over_probability = 0.0;  // release-ready by `hand_over`; 0 where none is agreed
};

}  // namespace dryclock
