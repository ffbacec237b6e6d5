// One vehicle's look ahead: what the engine hands to the pool, and what comes back.
#pragma once

#include <array>
#include <vector>

#include "domain/event.hpp"
#include "domain/view.hpp"
#include "models/catalogue.hpp"
#include "models/piece.hpp"

namespace dryclock::engine {

// To be computed elsewhere from copies: see look_ahead in models/piece.hpp.
struct OutlookTask {
  struct Item {
    PieceId id = 0;
    models::Piece piece;
  };
  VehicleId vehicle = 0;
  Time now;
  Seq revision = 0;  // an answer to an older revision is dropped
  std::vector<Item> pieces;
  std::vector<models::Surroundings> forecast;  // every `step` from now on
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
  double hand_over_probability = 0.0;
};

}  // namespace dryclock::engine
