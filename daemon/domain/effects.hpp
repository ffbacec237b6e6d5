// What one journal row, or time passing, did. Stage 8 commits it in one transaction, but for milestones,
// releases and gaps: those are for alerts and records, and a replay finds them again.
#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "domain/announced.hpp"
#include "domain/configured.hpp"
#include "domain/event.hpp"
#include "domain/learnt.hpp"
#include "domain/redated.hpp"
#include "domain/types.hpp"
#include "domain/view.hpp"
#include "models/air_memory.hpp"

namespace dryclock {

// Stage 3's answer for one row.
struct Decoded {
  std::vector<Reading> readings;
  std::vector<Reject> rejects;
  std::optional<Event> event;
  std::shared_ptr<const Configured> configured{};
  std::optional<Redated> redated{};
  std::optional<Announced> announced{};
  std::optional<Learnt> learnt{};
};

struct RejectRow {
  Seq seq = 0;
  Reject reject;
};

struct MilestoneRow {
  PieceId piece = 0;
  models::Milestone which = models::Milestone::liquid_gone;
  Word word = Word::ready;
  Time at;
  double probability = 0.0;
  bool by_word = false;  // of what the user saw
};

struct ReleaseRow {
  VehicleId vehicle = 0;
  Word word = Word::ready;
  Time at;
};

enum class AlertStep : std::uint8_t { raised, cleared, acknowledged, restated };

struct AlertRow {
  AlertStep step = AlertStep::raised;
  AlertSummary alert;
};

enum class GapWhy : std::uint8_t { no_readings, clock_step };

struct GapRow {  // a stretch of a bay's air that no readings cover
  std::string bay;
  Time from, to;
  GapWhy why = GapWhy::no_readings;
};

// A bay's air over an hour of the clock, of what was measured of it: what outlooks learn from.
struct AirHour {
  std::string bay;
  Time until;
  models::AirMean mean;
};

// To be delivered once, surely: stays in the database until its channel says it is done.
struct Outgoing {
  std::string channel;  // "mqtt", or a name from the configuration's notify section
  std::string topic;    // mqtt: below the configured base; else the subject line
  std::string payload;
  bool retained = false;
};

// A boot's rows came at other times than those that they were taken with: so did their readings, but for
// those whose sensor told the time itself.
struct DatedAnew {
  Redated redated;
  Seq row = 0;               // that tells it; it is of rows before it
  std::vector<Time> before;  // what the boot's time was counted from otherwise
  Millis slack{};            // a row that differs by no more keeps the time it came with
};

struct Effects {
  Seq applied = 0;  // the last journal row these follow from; 0: only time passed
  std::vector<ScreenedReading> readings;
  std::vector<RejectRow> rejects;
  std::vector<MilestoneRow> milestones;
  std::vector<ReleaseRow> releases;
  std::vector<AlertRow> alerts;
  std::vector<GapRow> gaps;
  std::vector<AirHour> air_hours;
  std::vector<Outgoing> outgoing;
  std::optional<DatedAnew> dated_anew{};
};

}  // namespace dryclock
