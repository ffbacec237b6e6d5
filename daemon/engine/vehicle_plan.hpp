// What a vehicle's events say, put in order of the time they happened: where it stood, what was laid on it
// and what was done to each piece. No physics here. Making it again from all events after every new one keeps
// one path for what is entered in time, entered late, and taken back.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "domain/event.hpp"
#include "domain/setup.hpp"
#include "domain/view.hpp"
#include "engine/film_measures.hpp"
#include "engine/heating.hpp"
#include "models/laid_piece.hpp"
#include "models/milestone.hpp"

namespace dryclock::engine {

// Something done to a piece that its state must follow. Times are whole minutes, the next one after the
// event: nobody's hand is more exact, and later is the safe side.
struct PieceAction {
  enum class Kind : std::uint8_t { open, wrap, trim, refit, inspect };
  Kind kind = Kind::open;
  Time at;
  Seq event = 0;
  models::ZoneKind zone = models::ZoneKind::field;  // inspect
  models::Finding finding = models::Finding::clear;
};

struct PiecePlan {
  PieceId id = 0;
  Lay lay;
  Time laid, from;  // as entered; the minute from which it is integrated
  std::optional<Time> ended;
  std::optional<Time> wrapped, trimmed, refitted, removed;
  std::optional<PieceId> replaced_by;
  std::vector<PieceAction> actions;  // in order of time
  std::vector<Heating> heatings;
  std::vector<Rechecked> rechecks;  // in order of time
  struct Lamp {                     // on this piece; each one takes the place of the one before
    Time from;
    double heat_w_m2 = 0.0;                // 0: off
    std::optional<models::ZoneKind> zone;  // absent: all of it
  };
  std::vector<Lamp> lamps;  // in order
  models::LaidSpec spec;
  Seq measurement = 0;        // that its film's figure comes from; 0: the catalogue's
  double told_area_m2 = 0.0;  // with it, or with the one whose place it took; 0: with none of them
  double area_m2 = 0.0;       // that, else as usual
  std::array<bool, models::milestone_kinds> needed{};  // somebody will do the step that it allows

  [[nodiscard]] bool is_on(Time t) const;
  [[nodiscard]] Lamp lamp_at(Time t) const;
  [[nodiscard]] bool has(models::ZoneKind kind) const;
  [[nodiscard]] std::vector<models::ZoneKind> zones() const;  // kinds that it was laid with, each once
  // Whether anybody has looked at it since it was laid.
  [[nodiscard]] bool looked_at() const;
  [[nodiscard]] std::string belief_key() const { return engine::belief_key(lay.film, measurement); }
};

struct VehiclePlan {
  struct Stay {
    Time from;
    std::string bay;
  };
  struct Lamp {  // on all of it
    Time from;
    double heat_w_m2 = 0.0;  // 0: off
  };
  bool valid = false;  // its arrival stands
  VehicleId id = 0;
  std::string reference;
  Time arrived, from;
  std::optional<double> panel_c;
  std::optional<Time> hand_over, released, ended;
  Seq release_event = 0;
  std::vector<Stay> stays;        // at least one when valid, in order
  std::vector<Lamp> lamps;        // in order
  std::vector<PiecePlan> pieces;  // in order of laying
  struct Intent {
    Time from;
    std::vector<PlannedPiece> pieces;
  };
  std::vector<Intent> intents;    // in order: the last one counts
  std::optional<Time> last_laid;  // minute of the newest piece that is still on

  // Where it stands during the minute that begins at t.
  [[nodiscard]] const std::string& bay_at(Time t) const;
  [[nodiscard]] double lamp_at(Time t) const;
  // When the newest of the pieces that are on it at t was laid.
  [[nodiscard]] std::optional<Time> last_on(Time t) const;
  // Planned, and not on it now: what was pulled off is to be laid again.
  [[nodiscard]] std::vector<PlannedPiece> to_lay() const;
  [[nodiscard]] const std::string& bay_now() const { return stays.back().bay; }
};

inline const std::string outside = "outside";

// `events`: those that stand (superseded ones left out), in order of the time they happened.
[[nodiscard]] VehiclePlan make_plan(VehicleId id, const std::vector<Event>& events,
                                    const Catalogue& catalogue, const FilmMeasures& measures = {});

}  // namespace dryclock::engine
