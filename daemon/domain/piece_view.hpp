// What the outside may see of a piece: plain data, copied out on the core thread.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "domain/event_fields.hpp"
#include "domain/fact.hpp"
#include "domain/field.hpp"
#include "domain/types.hpp"
#include "models/milestone.hpp"
#include "models/quantiles.hpp"

namespace dryclock::models {

void visit_fields(auto& f, Of<Quantiles> auto& s) {
  f.type("Quantiles", "10th, 50th and 90th percentile; null: none within what was looked at");
  f("low", s.low, or_null);
  f("likely", s.likely, or_null);
  f("high", s.high, or_null);
}

}  // namespace dryclock::models

namespace dryclock {

struct ZoneView {
  models::ZoneKind kind = models::ZoneKind::field;
  models::Quantiles water;        // g/m2 of liquid left, mean over the zone
  models::Quantiles wet_share;    // of its area, 0..1
  models::Quantiles excess;       // moisture from the liquid that is still in the film, as a share of what it
                                  // holds over liquid, 0..1
  models::Quantiles bond;         // of the final strength, 0..1
  double gone_probability = 0.0;  // that its liquid is gone
  std::uint8_t validity = models::valid;
};
void visit_fields(auto& f, Of<ZoneView> auto& s) {
  f.type("Zone", "a zone of a piece");
  f("kind", s.kind);
  f("water", s.water, "liquid left, g/m2");
  f("wet_share", s.wet_share, "of the zone's area");
  f("excess", s.excess, "moisture still in the film, of what it holds over liquid");
  f("bond", s.bond, "fraction of the final strength");
  f("gone_probability", s.gone_probability, chance, "that its liquid is gone");
  f("validity", s.validity, flags);
}

// As the newest outlook has it: empty until there is one.
struct PieceState {
  std::vector<ZoneView> zones;
  models::Celsius panel;  // modelled or measured
  std::uint8_t validity = models::valid;
};
void visit_fields(auto& f, Of<PieceState> auto& s) {
  f.type("PieceState", "what a piece still holds");
  f("zones", s.zones);
  f("panel_c", s.panel, "modelled or measured");
  f("validity", s.validity, flags);
}

struct Spread {  // early, likely, late: 10th, 50th, 90th percentile; absent where not reached within the
                 // outlook
  std::optional<Time> early, likely, late;
  bool operator==(const Spread&) const = default;
};
void visit_fields(auto& f, Of<Spread> auto& s) {
  f.type("Spread", "10th, 50th and 90th percentile; null: not reached within the outlook");
  f("early", s.early);
  f("likely", s.likely);
  f("late", s.late);
}

struct MilestoneView {
  models::Milestone which = models::Milestone::liquid_gone;
  bool needed = true;                 // false: nobody will do the step that it allows
  double probability = 0.0;           // that it is reached now
  std::optional<Time> look;           // when it was called worth a look
  std::optional<Time> announced;      // when it was called ready: at the shop's level, or by the user's word
  bool by_word = false;               // announced by what the user saw, not by the estimate
  std::optional<Time> announces;      // when that is foreseen, from the outlook; absent: not within it
  Spread expected;                    // from the outlook; empty once announced
  std::optional<double> hours_to_go;  // standard hours (21 C, 50 %RH) until likely; absent: not within it
  Fact held_by;  // "recess: 11 g/m² left, 6.1 standard hours to go"; empty once announced
  std::optional<models::ZoneKind> limiting_zone;  // that holds it back; absent without readings
};
void visit_fields(auto& f, Of<MilestoneView> auto& s) {
  f.type("Milestone", "a step that a piece must be ready for");
  f("which", s.which);
  f("needed", s.needed, "false: nobody will do the step that it allows");
  f("probability", s.probability, chance, "that it is reached now");
  f("look", s.look, "when it was called worth a look");
  f("announced", s.announced, "when it was called ready");
  f("by_word", s.by_word, "by what the user saw, not by the estimate");
  f("announces", s.announces, "when it is foreseen to be called ready; null: not within the outlook");
  f("expected", s.expected, "from the outlook; empty once announced");
  f("hours_to_go", s.hours_to_go, "standard hours (21 C, 50 %RH) until it is likely");
  f("held_by", s.held_by, "empty once announced");
  f("limiting_zone", s.limiting_zone, "that holds it back; null without readings");
}

// What had been estimated at the moment an event was recorded: kept for the record and the recheck list.
struct EarlyStep {
  Seq event = 0;
  std::string step;          // "edge-wrapped", "trimmed", "refitted", "released"
  double probability = 0.0;  // of the milestone that step asks for, without a forecast
  Fact still_wet;
};
void visit_fields(auto& f, Of<EarlyStep> auto& s) {
  f.type("EarlyStep", "a step done before it was ready");
  f("event", s.event, numbered);
  f("step", s.step);
  f("probability", s.probability, chance, "then, of the milestone that it asks for");
  f("still_wet", s.still_wet);
}
void visit_fields(auto& f, Of<PieceNotes> auto& s) {
  f.type("PieceNotes", "where");
  f("tension", s.tension);
  f("relief_cuts", s.relief_cuts);
  f("joins", s.joins);
}

// How far a piece is with a step that is still to do.
enum class StepState : std::uint8_t { drying, look, ready };
// The first step of a piece that somebody will do and has not done.
struct NextStep {
  models::Milestone which = models::Milestone::wrap_ready;
  StepState state = StepState::drying;
  std::optional<Time> since;  // it is ready, or worth a look
  std::optional<Time> ready;  // when it is foreseen to be called ready; absent: it is, or not in the outlook
  Spread expected;            // empty once it is ready
  bool operator==(const NextStep&) const = default;
};
void visit_fields(auto& f, Of<NextStep> auto& s) {
  f.type("NextStep", "the first step of a piece that somebody will do and has not done");
  f("which", s.which);
  f("state", s.state);
  f("since", s.since, "it is ready, or worth a look; null while it dries");
  f("ready", s.ready, "when it is foreseen to be called ready; null: it is, or not within the outlook");
  f("expected", s.expected, "empty once it is ready");
}

enum class CatalogueKind : std::uint8_t { film, panel, solution };

struct PieceSummary {
  PieceId id = 0;
  std::string panel;
  std::optional<Side> side;
  int part = 1, parts = 1;
  std::string place;  // what the part is called; may be empty
  std::string film, solution;
  std::vector<CatalogueKind> gone;  // what is no longer in the catalogue, or never was
  models::Wetness wetness = models::Wetness::usual;
  std::vector<models::ZoneKind> zones;  // kinds that it was laid with
  Time laid;
  std::optional<Time> wrapped, trimmed, refitted, removed;
  std::optional<PieceId> replaced_by, replaces;
  PieceNotes notes;
  PieceState state;
  Time as_of;                   // integrated up to here by readings
  double standard_hours = 0.0;  // delivered since it was laid
  std::array<MilestoneView, models::milestone_kinds> milestones;
  std::vector<EarlyStep> early_steps;
  std::optional<NextStep> next;  // absent: no step is left, or it is not on the vehicle any more
};
void visit_fields(auto& f, Of<PieceSummary> auto& s) {
  f.type("Piece", "a piece of film");
  f("id", s.id, numbered);
  f("panel", s.panel);
  f("side", s.side, "which of several such panels; null: there is one, or nobody said");
  f("part", s.part, AtLeast{1});
  f("parts", s.parts, AtLeast{1});
  f("place", s.place,
    "what this part is called: a word of the catalogue's places, or any other; may be empty");
  f("film", s.film);
  f("solution", s.solution);
  f("gone", s.gone, "what is no longer in the catalogue");
  f("wetness", s.wetness);
  f("zones", s.zones, "kinds that it was laid with");
  f("laid", s.laid);
  f("wrapped", s.wrapped);
  f("trimmed", s.trimmed);
  f("refitted", s.refitted);
  f("removed", s.removed);
  f("replaced_by", s.replaced_by, numbered);
  f("replaces", s.replaces, numbered);
  f("notes", s.notes);
  f("state", s.state);
  f("as_of", s.as_of, "integrated up to here by readings");
  f("standard_hours", s.standard_hours, "delivered since it was laid");
  f("milestones", s.milestones);
  f("early_steps", s.early_steps);
  f("next", s.next, "null: no step is left, or it is not on the vehicle any more");
}

}  // namespace dryclock
