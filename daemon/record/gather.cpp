#include "record/gather.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "engine/air_hours.hpp"
#include "engine/facts.hpp"
#include "engine/film_measures.hpp"
#include "engine/piece_spec.hpp"
#include "ingest/decode.hpp"
#include "ingest/topic_filter.hpp"
#include "record/parameters.hpp"
#include "record/replay.hpp"
#include "record/sensor_papers.hpp"
#include "record/step_estimates.hpp"
#include "record/vehicle_events.hpp"
#include "wire/event_json.hpp"

namespace dryclock::record {
namespace {

// Between the points of a piece's history.
constexpr std::chrono::minutes history_step{10};

// Whether plate or customer were told with that arrival.
bool commits(const Event& arrival) {
  const auto* in = std::get_if<VehicleIn>(&arrival.detail);
  return in != nullptr && !(in->plate_sha256.empty() && in->customer_sha256.empty());
}

bool stood_in(const std::vector<Stay>& stays, const std::string& bay, Time at) {
  return std::ranges::any_of(
      stays, [&](const Stay& stay) { return stay.bay == bay && at > stay.from && at <= stay.to; });
}
// Whether it stood there at some time of that span.
bool stood_in(const std::vector<Stay>& stays, const std::string& bay, Time from, Time to) {
  return std::ranges::any_of(
      stays, [&](const Stay& stay) { return stay.bay == bay && to > stay.from && from <= stay.to; });
}

// A catalogue's entry in words; null: the key alone is known.
template <class Entry>
std::string label_of(const wording::Words& words, const Entry* entry, const std::string& key) {
  if (entry == nullptr) {
    return key;
  }
  const auto& label = wording::label_of(*entry, words.manner().language);
  return entry->gone ? words.say("record.gone", {say::text("entry", label)}) : label;
}

PieceRecord piece_record(const PieceSummary& summary, const std::vector<history::RecordedEvent>& events,
                         const Replay& replay, const ShownRows& rows, const Setup& setup,
                         const wording::Words& words) {
  PieceRecord out;
  out.summary = summary;
  const auto* panel = engine::find_panel(setup.catalogue, summary.panel);
  out.panel_label = words.piece(name_of_piece(summary));
  const auto* film = engine::find_film(setup.catalogue, summary.film);
  out.film_label = label_of(words, film, summary.film);
  out.film_sheet = film == nullptr ? "" : film->data_sheet;
  const auto* solution = engine::find_solution(setup.catalogue, summary.solution);
  out.solution_label = label_of(words, solution, summary.solution);
  out.solution_sheet = solution == nullptr ? "" : solution->data_sheet;
  for (const auto& entry : events) {
    if (const auto* lay = std::get_if<Lay>(&entry.event.detail);
        lay != nullptr && entry.row.seq == summary.id) {
      out.lot = lay->lot;
      Lay stands = *lay;  // others may have been laid beside it since
      stands.parts = summary.parts;
      out.area_m2 = lay->area_m2 > 0.0 ? lay->area_m2
                    : panel != nullptr ? engine::area_of(stands, setup.catalogue)
                                       : 0.0;
      const auto measured = replay.engine().measured_films();
      if (const auto* counts = engine::counts_for(measured, lay->film, lay->lot, entry.event.at)) {
        out.measured = *counts;
      }
    }
  }
  out.steps = steps_of(summary, events, replay.then(), rows);
  out.early = summary.early_steps;
  if (auto history = replay.history(summary.id, history_step)) {
    out.history = std::move(*history);
  }
  return out;
}

void add_air(Record& record, const Replay& replay) {
  for (const auto& stay : record.stays) {
    record.air.emplace_back(stay, replay.engine().air(stay.bay, stay.from, stay.to));
  }
  for (const auto& gap : replay.gaps()) {
    if (std::ranges::any_of(record.stays, [&](const Stay& stay) {
          return stay.bay == gap.bay && gap.from < stay.to && gap.to > stay.from;
        })) {
      record.gaps.push_back(gap);
    }
  }
  std::stable_sort(record.gaps.begin(), record.gaps.end(),
                   [](const GapRow& a, const GapRow& b) { return a.from < b.from; });
}

void add_readings(Record& record, const Replay& replay) {
  std::vector<Seq> from;  // of each of record.sensors
  for (const auto& stay : record.stays) {
    for (const auto& known : replay.read_as()) {
      const bool listed = std::ranges::any_of(
          record.sensors, [&](const SensorRecord& one) { return one.mapping == known.mapping; });
      if (known.mapping.bay == stay.bay && !listed) {
        record.sensors.push_back({known.mapping, {}});
        from.push_back(known.from);
      }
    }
  }
  for (const auto& row : replay.readings()) {
    const auto& reading = row.screened.reading;
    if (!stood_in(record.stays, reading.bay, row.received)) {
      continue;
    }
    record.readings.push_back(row);
    // A sensor that was corrected stands there twice: the one that was read then is meant.
    for (std::size_t i = record.sensors.size(); i-- > 0;) {
      auto& sensor = record.sensors[i];
      if (sensor.mapping.sensor == reading.sensor && sensor.mapping.quantity == reading.quantity &&
          from[i] <= row.screened.seq) {
        ++sensor.counts[static_cast<std::size_t>(row.screened.verdict)];
        break;
      }
    }
  }
  std::set<std::string> topics;
  for (const auto& heard : replay.topics()) {  // bay and topic
    if (std::ranges::any_of(record.stays, [&](const Stay& stay) { return stay.bay == heard.first; })) {
      topics.insert(heard.second);
    }
  }
  for (const auto& row : replay.rejects()) {
    const bool ours = std::ranges::any_of(record.sensors, [&](const SensorRecord& one) {
      return ingest::matches(one.mapping.topic, row.topic) &&
             stood_in(record.stays, one.mapping.bay, row.received);
    });
    if (ours) {
      record.rejects.push_back(row);
      topics.insert(row.topic);
    }
  }
  record.topics.assign(topics.begin(), topics.end());
}

// Whether the alert speaks of that sensor: "a", or of a pair "a+b" or "a+b:quantity".
bool speaks_of(const ShownAlert& alert, const std::string& sensor) {
  if (alert.rule != AlertRule::sensors_disagree && alert.rule != AlertRule::sensor_drift) {
    return alert.subject == sensor;
  }
  const bool compares = alert.rule == AlertRule::sensors_disagree;
  const std::string pair = alert.subject.substr(0, compares ? alert.subject.rfind(':') : std::string::npos);
  return pair.starts_with(sensor + "+") || pair.ends_with("+" + sensor);
}

// The alerts that were told, and what was said last before the release.
void add_shown(Record& record, const ShownRows& rows, const history::RecordedEvent* release) {
  record.shown = rows.own();
  record.alerts = rows.alerts([&](const ShownAlert& alert, Time raised, std::optional<Time> over) {
    const Time to = over.value_or(Time::max());
    const bool sensor = std::ranges::any_of(record.sensors, [&](const SensorRecord& one) {
      return speaks_of(alert, one.mapping.sensor) && stood_in(record.stays, one.mapping.bay, raised, to);
    });
    return sensor || stood_in(record.stays, alert.subject, raised, to);
  });
  if (release == nullptr) {
    return;
  }
  const double worked_out = record.at_end.release_probability;
  const auto view = rows.view_at(*release);
  say(record.at_end, view);
  if (view.release) {
    record.release_again = worked_out;
    record.release_probability = view.release->probability;
  }
}

// Up to a day after the vehicle has left: for so long the board holds it and its alerts. What comes later is
// of others, so that a record does not change. (Where messages tell the time, rows have no order in it.)
Result<ShownRows> shown_rows(const store::Reader& reader, const history::Journal& journal, VehicleId vehicle,
                             const history::RecordedEvent* release, const Origin& origin) {
  constexpr std::chrono::hours on_the_board{24};
  Seq last = journal.extent.last;
  if (release != nullptr && !origin.time_from_messages) {
    const auto left = std::max(release->event.at, release->event.entered);
    const auto after = journal.dates.first_at_or_after(reader, left + on_the_board);
    if (!after) {
      return after.error();
    }
    last = std::min(last, *after - 1);
  }
  const auto rows = reader.rows_of(RowKind::shown, shown_topic(vehicle), last);
  if (!rows) {
    return rows.error();
  }
  return ShownRows(vehicle, *rows, journal.dates);
}

// What is told of the clock while the vehicle was here, or later of the rows from then.
Result<void> add_clock(Record& record, const store::Reader& reader, const history::Dates& dates) {
  for (const auto kind : {RowKind::clock_step, RowKind::redated}) {
    auto rows = reader.rows_of(kind);
    if (!rows) {
      return rows.error();
    }
    for (JournalRow& row : *rows) {
      const auto redated = dates.decode(row, {}, row.message.received_at).redated;
      const Time at = row.message.received_at;
      const bool of_its_rows = redated && redated->first > 0 && redated->first <= record.last_row &&
                               redated->last >= record.first_row;
      if (of_its_rows || (at > record.from && at <= record.to)) {
        record.clock_steps.push_back(
            {row.seq, at,
             redated ? engine::clock_fact(*redated)
                     : Fact{"alerts.clock-stepped", {say::text("step", row.message.payload)}}});
      }
    }
  }
  std::ranges::stable_sort(record.clock_steps, {}, &ClockStep::seq);
  return {};
}

void add_plates(Record& record, const Replay& replay) {
  for (PlateView& plate : replay.engine().plates()) {
    const bool of_a_film = std::ranges::any_of(
        record.pieces, [&](const PieceRecord& piece) { return piece.summary.film == plate.plate.film; });
    if (of_a_film && plate.laid <= record.to) {
      std::erase_if(plate.seen, [&](const PlateLook& look) { return look.at > record.to; });
      record.plates.push_back(std::move(plate));
    }
  }
}

void add_daemon(Record& record, const Replay& replay) {
  const auto within = [&](Time at) { return at > record.from && at <= record.to; };
  for (const auto& start : replay.starts()) {
    if (start.at <= record.from) {
      record.starts.assign(1, start);
    } else if (within(start.at)) {
      record.starts.push_back(start);
    }
  }
}

std::optional<AssumedSettings> assumed_settings(const history::Journal& journal, Seq first_row) {
  if (!journal.assumed || journal.settings.front().seq <= first_row) {
    return std::nullopt;
  }
  const JournalRow& row = journal.settings.front();
  return AssumedSettings{row.seq, row.message.received_at};
}

}  // namespace

Result<Record> gather(const store::Reader& reader, VehicleId vehicle, const Origin& origin) {
  const auto journal = history::Journal::read(reader, origin.time_from_messages);
  if (!journal) {
    return journal.error();
  }
  auto events = events_of(journal->events, vehicle);
  if (stays_in(events, {}).empty()) {
    return Problem{fmt::format("no vehicle {}", vehicle), "vehicle"};
  }
  Time arrival = Time::max();
  for (const auto& one : events) {
    arrival = std::min({arrival, one.event.at, one.event.entered});
  }
  const auto first = journal->dates.first_at_or_after(reader, arrival - history::lead);
  if (!first) {
    return first.error();
  }
  const auto air = reader.air_hours(arrival - history::lead - engine::air_needed);
  if (!air) {
    return air.error();
  }
  Replay replay(origin, *journal, vehicle, events);
  replay.know_air(*air);
  if (const auto done = replay.run(reader, *first); !done) {
    return done.error();
  }
  const auto shown = shown_rows(reader, *journal, vehicle, release_in(events), origin);
  if (!shown) {
    return shown.error();
  }
  const auto summary = replay.summary();
  if (!summary) {
    return Problem{fmt::format("vehicle {} cannot be replayed from the journal", vehicle), "vehicle"};
  }
  Setup setup = replay.engine().setup();
  setup.catalogue = replay.engine().catalogue();

  const auto zone = LocalZone::find(setup.site.time_zone);
  if (!zone) {
    return zone.error();
  }
  Manner manner = setup.site.manner;
  manner.language = origin.language.value_or(manner.language);
  Record record(std::make_shared<const wording::Words>(manner, wording::entries_of(setup.catalogue), *zone,
                                                       wording::Dates::iso));
  record.shop = setup.site.name;
  record.version = origin.version;
  record.vehicle = vehicle;
  record.reference = summary->reference;
  record.from = summary->arrived;
  record.to = summary->released.value_or(replay.now());
  record.as_of = replay.now();
  record.first_row = first.value();
  record.last_row = replay.last_row();
  record.hand_over = summary->hand_over;
  record.released = summary->released;
  record.announce_level = setup.announce_level;
  record.thresholds = setup.thresholds;
  record.stays = stays_in(events, record.to);
  record.at_end = replay.at_end();
  record.learned = replay.learned();
  record.announcements = replay.announcements();
  if (const auto* release = release_in(events)) {
    record.advised = std::get<Released>(release->event.detail).advised;
    record.release_probability = replay.at_end().release_probability;
  }
  auto personal = reader.personal(vehicle);
  if (!personal) {
    return personal.error();
  }
  record.personal = std::move(*personal);
  for (const auto& one : events) {
    // An arrival that was taken back has lost them, also where it was brought back later.
    const auto* taken_back = std::get_if<Superseded>(&one.event.detail);
    const bool lost = taken_back != nullptr && taken_back->event == vehicle && record.personal.empty() &&
                      commits(events.front().event);
    if (lost || std::holds_alternative<Forgotten>(one.event.detail)) {
      record.forgotten = one.event.at;
    }
    record.events.push_back({one.event, one.superseded, wire::to_json(one.event), one.redated});
    record.as_of = std::max(record.as_of, one.event.entered);
  }
  for (const auto& piece : summary->pieces) {
    record.pieces.push_back(piece_record(piece, events, replay, *shown, setup, *record.words));
  }
  for (const auto& planned : record.at_end.to_lay) {
    record.to_lay.push_back(record.words->piece(planned));
  }
  std::stable_sort(
      record.pieces.begin(), record.pieces.end(),
      [](const PieceRecord& a, const PieceRecord& b) { return a.summary.laid < b.summary.laid; });
  add_air(record, replay);
  add_readings(record, replay);
  add_daemon(record, replay);
  if (const auto added = add_clock(record, reader, journal->dates); !added) {
    return added.error();
  }
  record.assumed = assumed_settings(*journal, record.first_row);
  add_shown(record, *shown, release_in(events));
  record.sensor_papers = sensor_papers(record, replay.engine().sensors());
  add_plates(record, replay);
  record.parameters = parameters_of(record, setup);
  return record;
}

}  // namespace dryclock::record
