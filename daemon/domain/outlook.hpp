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
  std::vector<Course> forecast;  // courses of the same length
  models::Seconds step{300.0};
  Time earliest_release;  // last piece laid + least indoor time
  double release_bond = 0.90;
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
  Spread release;
  double hand_over_probability = 0.0;  // release-ready by `hand_over`; 0 where none is agreed
};

}  // namespace dryclock
