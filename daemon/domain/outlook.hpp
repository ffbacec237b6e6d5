// The question "when will it be ready?" and its answer: made by the engine from copies, answered elsewhere.
#pragma once

#include <array>
#include <memory>
#include <optional>
#include <set>
#include <vector>

#include "domain/announced.hpp"
#include "domain/event.hpp"
#include "domain/view.hpp"
#include "models/air_outlook.hpp"
#include "models/catalogue.hpp"
#include "models/laid_piece.hpp"
#include "models/milestone.hpp"
#include "models/shop_belief.hpp"

namespace dryclock {

// What has been said of a milestone, as rows tell it.
struct Said {
  std::optional<Time> look, ready;
  bool by_word = false;
};

// How a film and the hands are known: until then what is announced is a look.
inline constexpr int looks_to_know = 5;

struct OutlookTask {
  struct Item {
    PieceId id = 0;
    std::string film;
    models::LaidPiece piece;
    std::array<bool, models::milestone_kinds> needed{};
    std::array<Said, models::milestone_kinds> said{};
    bool looked_at = false;  // since it was laid
    bool condensing = false;
    std::string belief_key{};  // what the belief has the film under
  };
  VehicleId vehicle = 0;
  Time now;
  Seq revision = 0;  // an answer to an older revision is dropped
  std::vector<Item> pieces;
  // Planned and not laid yet: for the release, as if laid now.
  struct ToLay {
    PlannedPiece piece;
    std::string film;
    models::LaidSpec spec;
    std::string belief_key{};
  };
  std::vector<ToLay> to_lay;
  // The bay's air as it may become, every `step` from now on: courses of the same length. May be empty: then
  // only now is judged.
  std::vector<models::WeightedCourse> forecast;
  models::Seconds step{300.0};
  Time earliest_release;  // last piece laid (now, where one is still to lay) + least indoor time
  models::Thresholds thresholds;
  Millis least_indoor{};
  double announce_level = 0.90;
  std::optional<Time> hand_over;  // agreed
  Said release_said;
  // The shop as it is known now, shared by all tasks made from it.
  std::shared_ptr<const models::ShopBelief> belief;
  std::set<std::string> known_films;  // with looks_to_know looks or a witness plate
};

struct OutlookAnswer {
  VehicleId vehicle = 0;
  Seq revision = 0;
  Time at;  // the task's now
  struct Item {
    PieceId id = 0;
    PieceState state;
    // Without what was said: that is the engine's.
    struct Reach {
      double probability = 0.0;  // now
      std::optional<models::ZoneKind> limiting_zone;
      Spread expected;
      std::optional<Time> announces;
      std::optional<double> hours_to_go;
    };
    std::array<Reach, models::milestone_kinds> reach;
  };
  std::vector<Item> pieces;
  std::vector<PieceToLay> to_lay;    // in the task's order
  double release_probability = 0.0;  // now
  Spread release;
  std::optional<Time> release_announces, full_strength;
  std::optional<double> hand_over_probability;  // absent where none is agreed or there is no forecast
  // What is to be said from now on that was not, or is no longer: the engine asks for a row of it.
  std::vector<Announcement> announcements;
  // When the next announcement is foreseen: worth asking again then.
  std::optional<Time> ask_again;
};

}  // namespace dryclock
