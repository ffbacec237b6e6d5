// What the outside may see of the engine: plain data, copied out on the core thread.
#pragma once

#include <array>
#include <limits>
#include <map>
#include <string>
#include <vector>

#include "domain/event.hpp"
#include "domain/types.hpp"
#include "models/piece.hpp"

namespace dryclock {

struct Spread {  // early, likely, late: 10th, 50th, 90th percentile; absent where not reached within the
                 // outlook
  std::optional<Time> early, likely, late;
  bool operator==(const Spread&) const = default;
};

struct MilestoneView {
  models::Milestone which = models::Milestone::wrap_ready;
  double probability = 0.0;       // that it is reached now
  std::optional<Time> announced;  // when its probability passed the level
  Spread expected;                // from the outlook; empty once announced
  std::string held_by;            // "recess: 11 g/m2 left, 6.1 standard hours to go"; empty once announced
};

// What had been estimated at the moment an event was recorded: kept for the record and the recheck list.
struct EarlyStep {
  Seq event = 0;
  std::string step;          // "edge-wrapped", "trimmed", "refitted", "released"
  double probability = 0.0;  // of the milestone that step asks for
  std::string still_wet;
};

struct PieceSummary {
  PieceId id = 0;
  std::string panel;
  int part = 1, parts = 1;
  std::string film, solution;
  std::vector<std::string>
      gone;  // of "panel", "film", "solution": what is no longer in the catalogue, or never was
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

struct PieceToLay : PlannedPiece {
  // Laid with the usual wetness by then, it is dry by the agreed hand-over in nine cases of ten (the shop's
  // announce level), and the least time indoors is kept. Absent where no hand-over is agreed, no forecast is
  // there, or it is too late for that.
  std::optional<Time> lay_by;
  std::optional<double>
      chance_now;  // dry by the agreed hand-over if it were laid now; absent as above but the last
};

struct VehicleSummary {
  VehicleId id = 0;
  std::string reference, bay;
  Time arrived;
  std::optional<Time> hand_over, released;
  std::vector<PieceToLay> to_lay;     // planned, and not on it now
  std::vector<PieceSummary> pieces;   // laid now, in order of laying; ended ones last
  double release_probability = 0.0;   // now
  std::optional<Time> release_ready;  // when announced
  Spread release_expected;            // with what is still to lay as if it were laid now
  std::string held_by;
  double hand_over_probability = 0.0;  // release-ready by the agreed time, likewise; 0 where none is agreed
};

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

struct SensorSummary {
  std::string sensor, bay;
  Quantity quantity = Quantity::air_temperature;
  std::optional<double> value;
  std::optional<Time> at;
  Verdict last_verdict = Verdict::ok;
  std::array<std::uint64_t, verdicts> counts{};
};

struct AirPoint {  // one minute of a bay's air
  Time at;
  double air_c = 0.0, rh_pct = 0.0;
  double panel_c = 0.0;    // NaN where nothing measures it
  double air_speed = 0.0;  // NaN where nothing measures it
  double pace = 0.0;
  bool bridged = false;  // no readings here: the slower end was assumed
  double dew_point_c = std::numeric_limits<double>::quiet_NaN();  // over water; NaN where unknown
};

struct ZonePoint {  // what one zone held at one time
  models::ZoneKind kind = models::ZoneKind::field;
  models::Quantiles water, excess, bond;  // g/m2, fraction, fraction
};
struct HistoryPoint {  // a piece's past, for its plot and its record
  Time at;
  std::vector<ZonePoint> zones;
  double pace = 0.0;  // of the bay's air then
};

struct BaySummary {
  std::string name;
  std::optional<double> air_c, rh_pct, panel_c, dew_point_c, vapour_density_gm3, pace;
  std::optional<Time> as_of;
  std::vector<SensorSummary> sensors;
  bool gone = false;  // no longer in the settings
};

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
};
inline constexpr std::array<std::string_view, 23> alert_rule_names{
    "bay-cold",           "bay-damp",         "dew",
    "pace-low",           "estimate-slipped", "piece-ready",
    "release-ready",      "sensor-silent",    "sensor-stuck",
    "sensor-implausible", "sensor-skewed",    "clock-stepped",
    "disk-low",           "broker-dropping",  "solvent",
    "store-failing",      "seal-failing",     "sensor-check-due",
    "sensors-disagree",   "sensor-swings",    "sensor-drift",
    "settings-changed",   "clock-doubtful"};

enum class AlertLevel : std::uint8_t { news, warning, urgent };

struct AlertSummary {
  std::string id;  // rule and subject: "bay-cold/front"; one at a time is open
  AlertRule rule = AlertRule::bay_cold;
  std::string subject;
  AlertLevel level = AlertLevel::warning;
  Time raised;
  std::optional<Time> cleared, acknowledged;
  std::string text;    // what is so
  std::string advice;  // what to do next
};

struct Counters {
  std::uint64_t messages = 0, readings = 0, events = 0;
  std::array<std::uint64_t, reject_reasons> rejects{};
  std::array<std::uint64_t, verdicts> verdict{};
};

struct Board {
  Time now;
  Seq applied = 0;  // the last journal row in it
  std::vector<BaySummary> bays;
  std::vector<VehicleSummary> vehicles;
  std::vector<AlertSummary> alerts;  // open ones
  Counters counters;
};

}  // namespace dryclock
