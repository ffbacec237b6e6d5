#include "store/tables.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "store/columns.hpp"
#include "store/reader.hpp"
#include "wire/answer_json.hpp"

namespace dryclock::store {
namespace {

constexpr std::int64_t kept_messages = 10'000;  // delivered ones, by which a replay's echo is known
constexpr std::string_view add_personal_sql = "INSERT INTO personal VALUES (?1, ?2, ?3, ?4)";

}  // namespace

Tables::Tables(Connection& connection, std::int64_t session)
    : connection_(connection),
      session_(session),
      find_key_(connection, "SELECT seq FROM journal WHERE key = ?1"),
      append_(
          connection,
          "INSERT INTO journal (kind, received_ms, topic, payload, qos, flags, boottime_ms, session, key) "
          "VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9)"),
      add_personal_(connection, add_personal_sql),
      find_series_(connection, "SELECT id FROM series WHERE sensor = ?1 AND quantity = ?2 AND bay = ?3"),
      add_series_(connection, "INSERT INTO series (sensor, quantity, bay) VALUES (?1, ?2, ?3)"),
      add_reading_(connection,
                   "INSERT INTO reading VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7) ON CONFLICT DO NOTHING"),
      add_reject_(connection, "INSERT INTO reject VALUES (?1, ?2, ?3) ON CONFLICT DO NOTHING"),
      set_air_hour_(connection, "INSERT OR REPLACE INTO air_hour VALUES (?1, ?2, ?3, ?4)"),
      // A restart tells the steps of an alert again: what is known of it stays known.
      set_alert_(connection,
                 "INSERT INTO alert VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9) ON CONFLICT DO UPDATE SET "
                 "cleared_ms = coalesce(excluded.cleared_ms, cleared_ms), "
                 "acknowledged_ms = coalesce(excluded.acknowledged_ms, acknowledged_ms), "
                 "what = excluded.what, advice = excluded.advice"),
      set_applied_(connection, "UPDATE meta SET value = max(value, ?1) WHERE name = 'applied_seq'"),
      replace_retained_(
          connection, "DELETE FROM outbox WHERE channel = ?1 AND topic = ?2 AND retained = 1 AND state = 0"),
      add_message_(connection,
                   "INSERT INTO outbox (channel, topic, payload, retained) VALUES (?1, ?2, ?3, ?4) "
                   "ON CONFLICT DO NOTHING"),
      mark_message_(connection,
                    "UPDATE outbox SET state = ?2, attempts = attempts + ?3, next_at_ms = ?4, why = ?5 "
                    "WHERE id = ?1") {}

std::int64_t Tables::add_session(Connection& connection, const Session& session) {
  Statement(connection,
            "INSERT INTO session (boot_id, started_ms, version, clock_state) VALUES (?1, ?2, ?3, ?4)")
      .with(session.boot_id, to_unix_ms(session.started), session.version, session.clock_state)
      .run();
  return connection.last_row_id();
}

template <class Work>
auto Tables::as_one(Work work) {
  connection_.run("SAVEPOINT as_one");
  try {
    auto done = work();
    connection_.run("RELEASE as_one");
    return done;
  } catch (const SqlError&) {
    series_.clear();
    if (connection_.in_transaction()) {
      connection_.run("ROLLBACK TO as_one; RELEASE as_one");
    }
    throw;
  }
}

Appended Tables::append(const Entry& entry, Millis boot_time) {
  if (!entry.key.empty()) {
    if (const auto known = find_key_.with(entry.key).first()) {
      return {.seq = *known, .repeated = true};
    }
  }
  if (!entry.shown_before) {
    return {.seq = add_entry(entry, boot_time)};
  }
  return {.seq = as_one([&] {
            add_row(RowKind::shown, *entry.shown_before, boot_time, {});
            return add_entry(entry, boot_time);
          })};
}

Seq Tables::add_entry(const Entry& entry, Millis boot_time) {
  const Seq seq = add_row(entry.kind, entry.message, boot_time, entry.key);
  for (const auto& one : entry.personal) {
    add_personal_.with(seq, one.field, Blob{one.salt}, one.text).run();
  }
  if (entry.forget != 0) {
    erase_personal(connection_, entry.forget);
  }
  return seq;
}

Seq Tables::add_row(RowKind kind, const RawMessage& message, Millis boot_time, const std::string& key) {
  append_
      .with(code_of(kind), to_unix_ms(message.received_at), message.topic, Blob{message.payload},
            std::int64_t{message.qos}, journal_flags(message), std::int64_t{boot_time.count()}, session_,
            key.empty() ? std::nullopt : std::optional{key})
      .run();
  return connection_.last_row_id();
}

// Deleting one row would leave copies of it where the tree's pages were once rebuilt. So the table is emptied
// as a whole, which overwrites its pages (PRAGMA secure_delete), and written anew: it is small.
void erase_personal(Connection& connection, VehicleId vehicle) {
  struct Row {
    std::int64_t vehicle;
    std::string field, salt, text;
  };
  std::vector<Row> kept;
  Statement others(connection, "SELECT vehicle, field, salt, text FROM personal WHERE vehicle <> ?1");
  others.with(vehicle);
  while (others.step()) {
    kept.push_back({others.integer(0), others.text(1), others.text(2), others.text(3)});
  }
  connection.run("DELETE FROM personal");
  Statement add(connection, add_personal_sql);
  for (const auto& row : kept) {
    add.with(row.vehicle, row.field, Blob{row.salt}, row.text).run();
  }
}

bool Tables::write(const Effects& effects) {
  return as_one([&] {
    write_rows(effects);
    return write_outbox(effects.outgoing);
  });
}

void Tables::write_rows(const Effects& effects) {
  for (const auto& [seq, reading, verdict] : effects.readings) {
    add_reading_
        .with(series_of(reading), to_unix_ms(reading.at), seq, reading.raw, reading.value, code_of(verdict),
              reading_flags(reading))
        .run();
  }
  for (const auto& [seq, reject] : effects.rejects) {
    add_reject_.with(seq, code_of(reject.why), reject.detail).run();
  }
  for (const auto& [step, alert] : effects.alerts) {
    set_alert_
        .with(alert.id, to_unix_ms(alert.raised), code_of(alert.rule), alert.subject, code_of(alert.level),
              to_column(alert.cleared), to_column(alert.acknowledged), wire::to_json(alert.what),
              wire::to_json(alert.advice))
        .run();
  }
  for (const auto& [bay, until, mean] : effects.air_hours) {
    set_air_hour_.with(bay, to_unix_ms(until), mean.temperature, mean.vapour).run();
  }
  // After the hours: those that its own row ended are still of the wrong clock.
  if (effects.dated_anew) {
    date_readings(*effects.dated_anew);
    forget_hours(*effects.dated_anew);
  }
  if (effects.applied > 0) {
    set_applied_.with(effects.applied).run();
  }
}

// The table is in order of time, not of rows: they are looked for where they may stand, by the label they
// came with or by what their boot's time was counted from before.
void Tables::date_readings(const DatedAnew& anew) {
  const auto& redated = anew.redated;
  const std::string sessions = fmt::format("(SELECT id FROM session WHERE {} = ?1)", boot_column);
  Statement ends(connection_,
                 "SELECT min(received_ms), max(received_ms), min(boottime_ms), max(boottime_ms) FROM journal "
                 "WHERE session IN " +
                     sessions + " AND seq BETWEEN ?2 AND ?3");
  if (redated.first == 0 || !ends.with(redated.boot, redated.first, anew.row).step() || ends.is_null(0)) {
    return;
  }
  std::vector<std::pair<std::int64_t, std::int64_t>> spans{{ends.integer(0), ends.integer(1)}};
  for (const Time begin : anew.before) {
    spans.emplace_back(to_unix_ms(begin) + ends.integer(2), to_unix_ms(begin) + ends.integer(3));
  }
  Statement move(connection_,
                 "UPDATE reading SET at_ms = (SELECT iif(abs(?4 + boottime_ms - received_ms) > ?5, "
                 "?4 + boottime_ms, received_ms) FROM journal WHERE journal.seq = reading.seq) "
                 "WHERE series IN (SELECT id FROM series) AND at_ms BETWEEN ?6 AND ?7 AND flags & ?8 = 0 "
                 "AND seq BETWEEN ?2 AND ?3 "
                 "AND (SELECT session FROM journal WHERE journal.seq = reading.seq) IN " +
                     sessions);
  for (const auto& [from, to] : spans) {
    move.with(redated.boot, redated.first, anew.row, to_unix_ms(redated.booted),
              std::int64_t{anew.slack.count()}, from, to, reading_source_time)
        .run();
  }
}

// The replay that follows finds those again that it can.
void Tables::forget_hours(const DatedAnew& anew) {
  Statement ends(connection_,
                 "SELECT a.received_ms, b.received_ms, a.boottime_ms, b.boottime_ms "
                 "FROM journal AS a, journal AS b WHERE a.seq = ?1 AND b.seq = ?2");
  if (!ends.with(anew.redated.first, anew.redated.last).step()) {
    return;
  }
  Statement forget(connection_, "DELETE FROM air_hour WHERE until_ms BETWEEN ?1 AND ?2");
  const auto within = [&](std::int64_t from, std::int64_t to) {
    forget.with(from, to + std::int64_t{air_hour_beyond.count()}).run();
  };
  within(ends.integer(0), ends.integer(1));
  for (const Time begin : anew.before) {
    within(to_unix_ms(begin) + ends.integer(2), to_unix_ms(begin) + ends.integer(3));
  }
}

bool Tables::write_outbox(const std::vector<Outgoing>& messages) {
  bool added = false;
  for (const auto& message : messages) {
    if (message.retained) {
      replace_retained_.with(message.channel, message.topic).run();
    }
    add_message_.with(message.channel, message.topic, message.payload, std::int64_t{message.retained}).run();
    added = added || connection_.changes() > 0;
  }
  return added;
}

std::int64_t Tables::series_of(const Reading& reading) {
  const auto [known, is_new] = series_.try_emplace({reading.sensor, reading.quantity, reading.bay}, 0);
  if (is_new) {
    if (const auto id = find_series_.with(reading.sensor, code_of(reading.quantity), reading.bay).first()) {
      known->second = *id;
    } else {
      add_series_.with(reading.sensor, code_of(reading.quantity), reading.bay).run();
      known->second = connection_.last_row_id();
    }
  }
  return known->second;
}

void Tables::mark(const OutboxMark& mark) {
  const bool failed = mark.step == OutboxStep::failed;
  const std::int64_t state = failed ? 0 : mark.step == OutboxStep::delivered ? 1 : 2;
  mark_message_.with(mark.id, state, std::int64_t{failed}, to_unix_ms(mark.next_at), mark.why).run();
}

void Tables::keep_channels(const std::vector<std::string>& channels) {
  std::vector<std::string> waiting;
  Statement ask(connection_, "SELECT DISTINCT channel FROM outbox WHERE state = 0");
  while (ask.step()) {
    waiting.push_back(ask.text(0));
  }
  Statement give_up(
      connection_,
      "UPDATE outbox SET state = 2, why = 'no such channel any more' WHERE channel = ?1 AND state = 0");
  for (const auto& channel : waiting) {
    if (std::find(channels.begin(), channels.end(), channel) == channels.end()) {
      give_up.with(channel).run();
    }
  }
}

void Tables::clock_is(const std::string& state) {
  Statement(connection_, "UPDATE session SET clock_state = ?1 WHERE id = ?2").with(state, session_).run();
}

void Tables::forget_old_messages() {
  Statement(connection_, "DELETE FROM outbox WHERE state <> 0 AND id <= (SELECT max(id) FROM outbox) - ?1")
      .with(kept_messages)
      .run();
}

}  // namespace dryclock::store
