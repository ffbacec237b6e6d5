// What the outside may see of the engine: plain data, copied out on the core thread.
#pragma once

#include <array>
#include <limits>
#include <map>
#include <string>
#include <vector>

#include "domain/event_fields.hpp"
#include "domain/fact.hpp"
#include "domain/field.hpp"
#include "domain/types.hpp"
#include "models/piece.hpp"

namespace dryclock::models {

void visit_fields(auto& f, Of<Quantiles> auto& s) {
  f.type("Quantiles", "10th, 50th and 90th percentile; null: none within what was looked at");
  f("low", s.low, or_null);
  f("likely", s.likely, or_null);
  f("high", s.high, or_null);
}
void visit_fields(auto& f, Of<ZoneView> auto& s) {
  f.type("Zone", "a zone of a piece");
  f("kind", s.kind);
  f("water", s.water, "liquid left, g/m2");
  f("excess", s.excess, "fraction of the film's initial excess still in it");
  f("bond", s.bond, "fraction of the final strength");
  f("hours_to_go", s.hours_to_go, "standard hours (21 C, 50 %RH) until dry");
  f("dry_probability", s.dry_probability, chance);
  f("validity", s.validity, flags);
}
void visit_fields(auto& f, Of<PieceView> auto& s) {
  f.type("PieceState", "what a piece still holds");
  f("zones", s.zones);
  f("panel_c", s.panel, "modelled or measured");
  f("validity", s.validity, flags);
}

}  // namespace dryclock::models

namespace dryclock {

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
  models::Milestone which = models::Milestone::wrap_ready;
  double probability = 0.0;       // that it is reached now
  std::optional<Time> announced;  // when its probability passed the level
  Spread expected;                // from the outlook; empty once announced
  Fact held_by;                   // "recess: 11 g/m² left, 6.1 standard hours to go"; empty once announced
  std::optional<models::ZoneKind> limiting_zone;  // that holds it back; absent without readings
};
void visit_fields(auto& f, Of<MilestoneView> auto& s) {
  f.type("Milestone", "a step that a piece must be ready for");
  f("which", s.which);
  f("probability", s.probability, chance, "that it is reached now");
  f("announced", s.announced, "when that passed the shop's level");
  f("expected", s.expected, "from the outlook; empty once announced");
  f("held_by", s.held_by, "empty once announced");
  f("limiting_zone", s.limiting_zone, "that holds it back; null without readings");
}

// What had been estimated at the moment an event was recorded: kept for the record and the recheck list.
struct EarlyStep {
  Seq event = 0;
  std::string step;          // "edge-wrapped", "trimmed", "refitted", "released"
  double probability = 0.0;  // of the milestone that step asks for
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

enum class CatalogueKind : std::uint8_t { film, panel, solution };

struct PieceSummary {
  PieceId id = 0;
  std::string panel;
  int part = 1, parts = 1;
  std::string film, solution;
  std::vector<CatalogueKind> gone;  // what is no longer in the catalogue, or never was
  models::Wetness wetness = models::Wetness::usual;
  Time laid;
  std::optional<Time> wrapped, trimmed, refitted, removed;
  std::optional<PieceId> replaced_by, replaces;
  PieceNotes notes;
  models::PieceView state;  // as of `as_of`
  Time as_of;               // integrated up to here by readings; between it and now the air is assumed held
  double standard_hours = 0.0;  // delivered since it was laid
  std::array<MilestoneView, models::milestone_kinds> milestones;
  std::vector<EarlyStep> early_steps;
};
void visit_fields(auto& f, Of<PieceSummary> auto& s) {
  f.type("Piece", "a piece of film");
  f("id", s.id, numbered);
  f("panel", s.panel);
  f("part", s.part, AtLeast{1});
  f("parts", s.parts, AtLeast{1});
  f("film", s.film);
  f("solution", s.solution);
  f("gone", s.gone, "what is no longer in the catalogue");
  f("wetness", s.wetness);
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
}

struct PieceToLay : PlannedPiece {
  // Laid with the usual wetness by then, it is dry by the agreed hand-over in nine cases of ten (the shop's
  // announce level), and the least time indoors is kept. Absent where no hand-over is agreed, no forecast is
  // there, or it is too late for that.
  std::optional<Time> lay_by;
  std::optional<double>
      chance_now;  // dry by the agreed hand-over if it were laid now; absent as above but the last
};
void visit_fields(auto& f, Of<PieceToLay> auto& s) {
  f.type("PieceToLay", "planned, and not on it now");
  f.flat(inherited<PlannedPiece>(s));
  f("lay_by", s.lay_by,
    "laid by then it is dry by the agreed hand-over at the shop's announce level; null where it is too "
    "late for that, no hand-over is agreed or there is no forecast");
  f("chance_now", s.chance_now, chance,
    "dry by the agreed hand-over if it were laid now; null where none is agreed or there is no forecast");
}

struct VehicleSummary {
  VehicleId id = 0;
  std::string reference, bay;
  Time arrived;
  std::optional<Time> hand_over, released;
  std::vector<PieceToLay> to_lay;      // planned, and not on it now
  std::vector<PieceSummary> pieces;    // laid now, in order of laying; ended ones last
  double release_probability = 0.0;    // now
  std::optional<Time> release_ready;   // when announced
  Spread release_expected;             // with what is still to lay as if it were laid now
  Fact held_by;                        // empty once it is release-ready
  double hand_over_probability = 0.0;  // release-ready by the agreed time, likewise; 0 where none is agreed
};
void visit_fields(auto& f, Of<VehicleSummary> auto& s) {
  f.type("Vehicle", "a vehicle with its pieces");
  f("id", s.id, numbered);
  f("reference", s.reference);
  f("bay", s.bay);
  f("arrived", s.arrived);
  f("hand_over", s.hand_over);
  f("released", s.released);
  f("to_lay", s.to_lay);
  f("pieces", s.pieces, "in order of laying; ended ones last");
  f("release_probability", s.release_probability, chance);
  f("release_ready", s.release_ready, "when it was announced");
  f("release_expected", s.release_expected, "with what is still to lay as if it were laid now");
  f("held_by", s.held_by);
  f("hand_over_probability", s.hand_over_probability, chance,
    "release-ready by the agreed time; 0 where none is agreed");
}

// A vehicle that has left, for its recheck.
struct HandedOver {
  struct Piece {  // on it when it left
    PieceId id = 0;
    std::string panel;
    int part = 1, parts = 1;
    std::optional<Time> rechecked;
    std::optional<RecheckFinding> finding;  // the last one
  };
  VehicleId vehicle = 0;
  std::string reference;
  Time released, recheck_from, recheck_until;
  std::vector<Piece> pieces;
};
void visit_fields(auto& f, Of<HandedOver::Piece> auto& s) {
  f.type("PieceHandedOver", "on the vehicle when it left");
  f("id", s.id, numbered);
  f("panel", s.panel);
  f("part", s.part, AtLeast{1});
  f("parts", s.parts, AtLeast{1});
  f("rechecked", s.rechecked);
  f("finding", s.finding, "the last one");
}
void visit_fields(auto& f, Of<HandedOver> auto& s) {
  f.type("HandedOver", "a vehicle that has left, for its recheck");
  f("id", s.vehicle, numbered);
  f("reference", s.reference);
  f("released", s.released);
  f("recheck_from", s.recheck_from);
  f("recheck_until", s.recheck_until);
  f("pieces", s.pieces);
}

struct SensorSummary {
  std::string sensor, bay;
  Quantity quantity = Quantity::air_temperature;
  std::optional<double> value;
  std::optional<Time> at;
  Verdict last_verdict = Verdict::ok;
  std::array<std::uint64_t, verdicts> counts{};
};
void visit_fields(auto& f, Of<SensorSummary> auto& s) {
  f.type("SensorSummary", "one quantity of a sensor");
  f("sensor", s.sensor);
  f("bay", s.bay);
  f("quantity", s.quantity);
  f("value", s.value, "C, %RH over water, m/s");
  f("at", s.at);
  f("last_verdict", s.last_verdict);
  f("counts", s.counts, by<Verdict>, "readings");
}

struct AirPoint {  // one minute of a bay's air
  Time at;
  double air_c = 0.0, rh_pct = 0.0;
  double panel_c = 0.0;    // NaN where nothing measures it
  double air_speed = 0.0;  // NaN where nothing measures it
  double pace = 0.0;
  bool bridged = false;  // no readings here: the slower end was assumed
  double dew_point_c = std::numeric_limits<double>::quiet_NaN();  // over water; NaN where unknown
};
void visit_fields(auto& f, Of<AirPoint> auto& s) {
  f.type("AirPoint", "a bay's air; null where nothing measures it");
  f("at", s.at);
  f("air_c", s.air_c, or_null);
  f("rh_pct", s.rh_pct, or_null);
  f("panel_c", s.panel_c, or_null);
  f("dew_point_c", s.dew_point_c, or_null, "over water");
  f("air_speed", s.air_speed, or_null, "m/s");
  f("pace", s.pace, or_null);
  f("bridged", s.bridged, "no readings here: the slower end was assumed");
}

struct ZonePoint {  // what one zone held at one time
  models::ZoneKind kind = models::ZoneKind::field;
  models::Quantiles water, excess, bond;  // g/m2, fraction, fraction
};
void visit_fields(auto& f, Of<ZonePoint> auto& s) {
  f.type("ZonePoint", "what one zone held at one time");
  f("kind", s.kind);
  f("water", s.water, "g/m2");
  f("excess", s.excess);
  f("bond", s.bond);
}
struct HistoryPoint {  // a piece's past, for its plot and its record
  Time at;
  std::vector<ZonePoint> zones;
  double pace = 0.0;  // of the bay's air then
};
void visit_fields(auto& f, Of<HistoryPoint> auto& s) {
  f.type("HistoryPoint", "a piece at one time");
  f("at", s.at);
  f("zones", s.zones);
  f("pace", s.pace, or_null, "of the bay's air then");
}

struct BaySummary {
  std::string name;
  std::optional<double> air_c, rh_pct, panel_c, dew_point_c, vapour_density_gm3, pace;
  std::optional<Time> as_of;
  std::vector<SensorSummary> sensors;
  bool gone = false;  // no longer in the settings
};
void visit_fields(auto& f, Of<BaySummary> auto& s) {
  f.type("Bay", "a bay and its air now");
  f("name", s.name);
  f("gone", s.gone, "no longer in the settings, and a vehicle still stands in it");
  f("air_c", s.air_c);
  f("rh_pct", s.rh_pct);
  f("panel_c", s.panel_c);
  f("dew_point_c", s.dew_point_c);
  f("vapour_density_gm3", s.vapour_density_gm3);
  f("pace", s.pace, "how fast this air dries against 21 C and 50 %RH");
  f("as_of", s.as_of);
  f("sensors", s.sensors);
}

enum class AlertRule : std::uint8_t {
  bay_cold,
  bay_damp,
  dew,
  pace_low,
  estimate_slipped,
  piece_ready,
  release_ready,
  sensor_silent,
  sensor_stuck,
  sensor_implausible,
  sensor_skewed,
  clock_stepped,
  disk_low,
  broker_dropping,
  solvent,
  store_failing,
  seal_failing,
  sensor_check_due,
  sensors_disagree,
  sensor_swings,
  sensor_drift,
  settings_changed,
  clock_doubtful,
  channel_test,
};
inline constexpr std::array<std::string_view, 24> alert_rule_names{
    "bay-cold",           "bay-damp",         "dew",
    "pace-low",           "estimate-slipped", "piece-ready",
    "release-ready",      "sensor-silent",    "sensor-stuck",
    "sensor-implausible", "sensor-skewed",    "clock-stepped",
    "disk-low",           "broker-dropping",  "solvent",
    "store-failing",      "seal-failing",     "sensor-check-due",
    "sensors-disagree",   "sensor-swings",    "sensor-drift",
    "settings-changed",   "clock-doubtful",   "channel-test"};

enum class AlertLevel : std::uint8_t { news, warning, urgent };

struct AlertSummary {
  std::string id;  // rule and subject: "bay-cold/front"; one at a time is open
  AlertRule rule = AlertRule::bay_cold;
  std::string subject;
  AlertLevel level = AlertLevel::warning;
  Time raised;
  std::optional<Time> cleared, acknowledged;
  Fact what;    // is so
  Fact advice;  // what to do next
};
void visit_fields(auto& f, Of<AlertSummary> auto& s) {
  f.type("Alert", "what people should know of");
  f("id", s.id, "rule and subject: one at a time is open");
  f("rule", s.rule);
  f("subject", s.subject);
  f("level", s.level);
  f("raised", s.raised);
  f("cleared", s.cleared);
  f("acknowledged", s.acknowledged);
  f("what", s.what, "is so");
  f("advice", s.advice, "what to do next");
}

struct Counters {
  std::uint64_t messages = 0, readings = 0, events = 0;
  std::array<std::uint64_t, reject_reasons> rejects{};
  std::array<std::uint64_t, verdicts> verdict{};
};
void visit_fields(auto& f, Of<Counters> auto& s) {
  f.type("Counters", "since the start");
  f("messages", s.messages);
  f("readings", s.readings);
  f("events", s.events);
  f("rejects", s.rejects, by<RejectReason>);
  f("verdict", s.verdict, by<Verdict>);
}

struct Board {
  Time now;
  Seq applied = 0;  // the last journal row in it
  std::vector<BaySummary> bays;
  std::vector<VehicleSummary> vehicles;
  std::vector<AlertSummary> alerts;  // open ones
  Counters counters;
};
void visit_fields(auto& f, Of<Board> auto& s) {
  f.type("Board", "everything now");
  f("now", s.now);
  f("applied", s.applied, AtLeast{0}, "the last journal row in it");
  f("bays", s.bays);
  f("vehicles", s.vehicles);
  f("alerts", s.alerts, "open ones");
  f("counters", s.counters);
}

}  // namespace dryclock
