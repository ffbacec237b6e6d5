// The evidence of one vehicle, as plain data: what was told, what was measured, what the estimate said, and
// what is missing. gather.hpp fills it from the journal; the sheets and the machine files print it. Nothing
// in it comes from the clock of the machine that makes it.
#pragma once

#include <array>
#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "domain/announced.hpp"
#include "domain/effects.hpp"
#include "domain/event.hpp"
#include "domain/fact.hpp"
#include "domain/learned_view.hpp"
#include "domain/personal.hpp"
#include "domain/sensor_view.hpp"
#include "domain/setup.hpp"
#include "domain/view.hpp"
#include "record/shown_rows.hpp"
#include "wording/words.hpp"

namespace dryclock::record {

// One file of the machine part. `name` may hold folders, with "/".
struct File {
  std::string name;
  std::string bytes;
};

struct EventEntry {
  Event event;
  bool superseded = false;  // a later event says that it was entered wrongly
  std::string json;         // one line, as the journal's other readers get it
  bool redated = false;     // it was entered while the clock was wrong, and is dated anew
};

// Where the vehicle stood: (from, to].
struct Stay {
  std::string bay;
  Time from, to;
};

// What the estimate said at the moment of a step: as the row kept it that was written then; where none was,
// as worked out again.
struct StepEstimate {
  Seq event = 0;
  std::string step;  // "edge-wrapped", "trimmed", "refitted", "released"
  models::Milestone asked = models::Milestone::wrap_ready;
  Time at;
  std::optional<double> probability;  // that it was reached; absent: it did not know the piece yet
  std::optional<Time> announced;      // the program had called the piece ready for it before
  std::optional<Time> look{};         // or worth a look
  bool by_word{};                     // it had by what somebody saw, not by the estimate
  Fact held_by;                       // empty where nothing held it back; what is kept is in words alone
  std::optional<models::ZoneKind> limiting{};  // the zone that held it back
  std::optional<Time> kept{};                  // when the row says that it was said; absent: worked out again
  // With the program and the settings of this record.
  Fact again_held_by{};
  Fact still_wet{};  // of an early step: as EarlyStep has it
  std::optional<double> again{};
  std::optional<Time> again_announced{};
};
// Of a step before the piece was ready for it: whether liquid was likely still there.
[[nodiscard]] bool was_wet(const StepEstimate& step);

// Whether a value that was worked out again is another one than was kept, as far as people would say so.
[[nodiscard]] bool differs(const StepEstimate& step);
[[nodiscard]] bool differs(double again, double kept);  // probabilities: by a point
// Whether the piece was ready for the step: where it is kept what was said, it had been called so. Else it
// had been, or is at least as likely as it takes (`announce_level`).
[[nodiscard]] bool was_ready(const StepEstimate& step, double announce_level);

struct PieceRecord {
  PieceSummary summary;  // at the end of the record
  std::string panel_label, film_label, solution_label;
  std::string film_sheet, solution_sheet;  // data sheets that the shop goes by; may be empty
  std::string lot;                         // of the film roll; may be empty
  double area_m2 = 0.0;                    // 0: not known
  std::optional<MeasuredFilm> measured;    // what the film was reckoned with, where a coupon had told
  std::vector<HistoryPoint> history;
  std::vector<StepEstimate> steps;  // in order of time; the release last
  std::vector<EarlyStep> early;     // computed afterwards, late entries included
};

// As far as they are known: a piece of which nothing was estimated has none.
[[nodiscard]] std::vector<models::ZoneKind> zones_of(const PieceRecord& piece);

struct ReadingRow {
  ScreenedReading screened;
  Time received;
};

struct RejectedRow {
  Seq seq = 0;
  Time received;
  std::string topic;
  Reject reject;
};

struct ClockStep {
  Seq seq = 0;
  Time at;  // after the step
  Fact text;
};

struct DaemonStart {
  Seq seq = 0;
  Time at;
  std::string text;  // JSON with the version
};

// One sensor's one quantity, with how its readings were judged in the record's span.
struct SensorRecord {
  SensorMapping mapping;
  std::array<std::uint64_t, verdicts> counts{};
};

// What is known of a device itself. The check is the last one before the record's end.
struct SensorPaper {
  std::string sensor, model, place;     // the latter two may be empty
  std::optional<Time> checked;          // over a saturated salt solution
  std::optional<SensorChecked> result;  // of that check
};

// What was said of a milestone, or taken back: by a row, or by what somebody saw.
struct SaidThen {
  Seq row = 0;
  Time at;
  PieceId piece = 0;  // 0: the vehicle
  models::Milestone which = models::Milestone::may_leave;
  Word word = Word::ready;
  std::optional<double> probability;  // then; absent where no estimate was asked
  bool by_word = false;
};

// Before this row the journal tells no settings: those of the row are taken to have held.
struct AssumedSettings {
  Seq row = 0;
  Time at;
};

// A figure that the estimate rests on. `source` names a key of models/SOURCES.md, or says that it is an
// assumption, a setting, or common practice.
struct Parameter {
  Fact name;
  double value = 0.0;
  Fact unit;  // empty: it has none
  Fact source;
};

struct Record {
  explicit Record(std::shared_ptr<const wording::Words> with) : words(std::move(with)) {}

  std::shared_ptr<const wording::Words> words;  // that it is written with, its labels too
  std::string shop;
  std::string version;  // of the program that made this record

  VehicleId vehicle = 0;
  std::string reference;
  Time from, to;  // what the record covers: from arrival to release, or to the last row
  Time as_of;     // the last journal row in it
  Seq first_row = 0, last_row = 0;
  std::optional<Time> hand_over, released;
  std::string advised;  // what the customer was told at the release
  std::vector<Stay> stays;
  std::vector<PersonalText> personal;  // plate, customer: where they were given and not erased
  std::optional<Time> forgotten;       // when they were erased

  std::vector<EventEntry> events;   // in journal order
  VehicleSummary at_end;            // as it was shown last: just before the release, with its outlook
  std::vector<PieceRecord> pieces;  // in order of laying, those that were pulled included
  std::vector<std::string> to_lay;  // what is planned and not laid
  std::optional<double> release_probability;  // at the release: as kept, or worked out again
  std::optional<double> release_again;        // where it was kept: worked out again
  std::vector<SaidThen> announcements;        // in journal order
  std::vector<AlertCourse> alerts;            // of the vehicle, its bays and their sensors
  std::vector<ShownRow> shown;                // of the vehicle
  double announce_level = 0.90;
  models::Thresholds thresholds;

  std::vector<std::pair<Stay, std::vector<AirPoint>>> air;  // a stay outside has none
  std::vector<GapRow> gaps;
  std::vector<ClockStep> clock_steps;
  std::vector<DaemonStart> starts;         // the first may lie before `from`: what ran when the vehicle came
  std::optional<AssumedSettings> assumed;  // where rows of the record stand before that row
  std::vector<ReadingRow> readings;
  std::vector<RejectedRow> rejects;
  std::vector<SensorRecord> sensors;
  std::vector<SensorPaper> sensor_papers;  // one for each device in `sensors`, in their order
  LearnedView learned;                     // what the shop had shown by the end
  std::vector<PlateView> plates;           // witness plates of the films on it, as they stood at its end
  std::vector<Parameter> parameters;

  std::vector<std::string> topics;  // whose messages are in it

  // Of the seal: the checkpoint that covers the record's last row (on a receipt: the newest), or why there is
  // none.
  std::optional<std::string> checkpoint, checkpoint_name;
  std::int64_t checkpoint_number = 0;
  std::optional<Time> checkpoint_at;
  std::string key_sha256;
  Fact unsealed{"record.unsealed-shop"};
  std::vector<File> sealed;  // segments, checkpoints and keys, below "sealed/"
};

}  // namespace dryclock::record
