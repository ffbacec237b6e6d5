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
#include "domain/piece_view.hpp"
#include "domain/plate_view.hpp"
#include "domain/types.hpp"

namespace dryclock {

struct PieceToLay : PlannedPiece {
  // Laid with the usual wetness by then, it may leave by the agreed hand-over in nine cases of ten (the
  // shop's announce level), and the least time indoors is kept. Absent where no hand-over is agreed, no
  // forecast is there, or it is too late for that.
  std::optional<Time> lay_by;
  std::optional<double>
      chance_now;  // it may leave by the agreed hand-over if it were laid now; absent as above but the last
};
void visit_fields(auto& f, Of<PieceToLay> auto& s) {
  f.type("PieceToLay", "planned, and not on it now");
  f.flat(inherited<PlannedPiece>(s));
  f("lay_by", s.lay_by,
    "laid by then it may leave by the agreed hand-over at the shop's announce level; null where it is too "
    "late for that, no hand-over is agreed or there is no forecast");
  f("chance_now", s.chance_now, chance,
    "it may leave by the agreed hand-over if it were laid now; null where none is agreed or there is no "
    "forecast");
}

struct VehicleSummary {
  VehicleId id = 0;
  std::string reference, bay;
  Time arrived;
  std::optional<Time> hand_over, released;
  std::vector<PieceToLay> to_lay;         // planned, and not on it now
  std::vector<PieceSummary> pieces;       // laid now, in order of laying; ended ones last
  double release_probability = 0.0;       // that it may leave now
  std::optional<Time> release_look;       // when "worth a look" was said of the vehicle as a whole
  std::optional<Time> release_ready;      // when "may leave" was announced
  std::optional<Time> release_announces;  // when that is foreseen; absent: not within the outlook
  Spread release_expected;                // with what is still to lay as if it were laid now
  std::optional<Time> full_strength;      // from then on it may be washed; advice, not a gate
  Fact held_by;                           // empty once it may leave
  // It may leave by the agreed time, likewise; absent where none is agreed or there is no forecast.
  std::optional<double> hand_over_probability;
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
  f("release_probability", s.release_probability, chance, "that it may leave now");
  f("release_look", s.release_look, "when it was called worth a look");
  f("release_ready", s.release_ready, "when it was announced that it may leave");
  f("release_announces", s.release_announces, "when that is foreseen; null: not within the outlook");
  f("release_expected", s.release_expected, "with what is still to lay as if it were laid now");
  f("full_strength", s.full_strength, "no wash and no pressure until then; advice, not a gate");
  f("held_by", s.held_by);
  f("hand_over_probability", s.hand_over_probability, chance,
    "it may leave by the agreed time; null where none is agreed or there is no forecast");
}

// A vehicle that has left, for its recheck.
struct HandedOver {
  struct Piece {  // on it when it left
    PieceId id = 0;
    std::string panel;
    int part = 1, parts = 1;
    std::optional<Time> rechecked;
    std::optional<RecheckFinding> finding;  // the last one
    std::optional<Side> side{};
    std::string place{};
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
  f("side", s.side);
  f("part", s.part, AtLeast{1});
  f("parts", s.parts, AtLeast{1});
  f("place", s.place);
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
  models::Quantiles wet_share{};          // of its area
};
void visit_fields(auto& f, Of<ZonePoint> auto& s) {
  f.type("ZonePoint", "what one zone held at one time");
  f("kind", s.kind);
  f("water", s.water, "g/m2");
  f("excess", s.excess);
  f("bond", s.bond);
  f("wet_share", s.wet_share, "of its area");
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
  std::vector<PlateAsk> to_look;  // at the plates that lie in it
  bool gone = false;              // no longer in the settings
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
  f("to_look", s.to_look, "at the plates that lie in it");
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
  worth_a_look,
};
inline constexpr std::array<std::string_view, 25> alert_rule_names{
    "bay-cold",           "bay-damp",         "dew",
    "pace-low",           "estimate-slipped", "piece-ready",
    "release-ready",      "sensor-silent",    "sensor-stuck",
    "sensor-implausible", "sensor-skewed",    "clock-stepped",
    "disk-low",           "broker-dropping",  "solvent",
    "store-failing",      "seal-failing",     "sensor-check-due",
    "sensors-disagree",   "sensor-swings",    "sensor-drift",
    "settings-changed",   "clock-doubtful",   "channel-test",
    "worth-a-look"};

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

// What waits for somebody: a look that is long due, a step that was early and was not looked at since, a
// sensor that is silent.
enum class WaitKind : std::uint8_t { look, early, silent };
struct Wait {
  WaitKind kind = WaitKind::look;
  std::optional<VehicleId> vehicle;  // of a look or a step
  std::optional<PieceId> piece;
  std::string sensor;  // that is silent
  Time since;
  Fact what;
};
void visit_fields(auto& f, Of<Wait> auto& s) {
  f.type("Wait", "what waits for somebody");
  f("kind", s.kind,
    "a look that is long due, a step that was early and was not looked at since, a silent sensor");
  f("vehicle", s.vehicle, numbered, "of a look or a step");
  f("piece", s.piece, numbered);
  f("sensor", s.sensor, "that is silent; empty: none");
  f("since", s.since);
  f("what", s.what);
}

struct Board {
  Time now;
  Seq applied = 0;  // the last journal row in it
  std::vector<BaySummary> bays;
  std::vector<VehicleSummary> vehicles;
  std::vector<AlertSummary> alerts;  // open ones
  Counters counters;
  std::vector<Wait> waits{};  // longest first
};
void visit_fields(auto& f, Of<Board> auto& s) {
  f.type("Board", "everything now");
  f("now", s.now);
  f("applied", s.applied, AtLeast{0}, "the last journal row in it");
  f("bays", s.bays);
  f("vehicles", s.vehicles);
  f("alerts", s.alerts, "open ones");
  f("counters", s.counters);
  f("waits", s.waits, "for somebody; longest first");
}

}  // namespace dryclock
