#include "store/schema.hpp"

#include <array>

#include "base/log.hpp"

namespace dryclock::store {
namespace {

// Version 1. The journal is the truth; all tables from `series` on are derived from it and may be dropped and
// filled again by a replay, so their rows have natural keys and writing them twice changes nothing. (The
// outbox alone also says what has been delivered.)
constexpr std::string_view version_1 = R"sql(
CREATE TABLE session (
  id          INTEGER PRIMARY KEY,
  boot_id     TEXT    NOT NULL,
  started_ms  INTEGER NOT NULL,
  version     TEXT    NOT NULL,
  clock_state TEXT    NOT NULL
) STRICT;

CREATE TABLE journal (
  seq         INTEGER PRIMARY KEY,
  kind        INTEGER NOT NULL CHECK (kind BETWEEN 0 AND 4),  -- message, event, started, clock step, tick
  received_ms INTEGER NOT NULL,                               -- wall clock, UTC since 1970
  topic       TEXT    NOT NULL,
  payload     BLOB    NOT NULL,                               -- as received
  qos         INTEGER NOT NULL,
  flags       INTEGER NOT NULL,                               -- 1 duplicate hint, 2 retained, 4 cut
  boottime_ms INTEGER NOT NULL,                               -- since boot, suspend included
  session     INTEGER NOT NULL REFERENCES session (id),
  key         TEXT                                            -- the sender's idempotency key
) STRICT;
CREATE UNIQUE INDEX journal_key ON journal (key) WHERE key IS NOT NULL;
CREATE INDEX journal_rare ON journal (kind, seq) WHERE kind <> 0;
CREATE TRIGGER journal_keeps_its_rows BEFORE DELETE ON journal
  BEGIN SELECT RAISE (ABORT, 'the journal is append-only'); END;
CREATE TRIGGER journal_keeps_its_words BEFORE UPDATE ON journal
  BEGIN SELECT RAISE (ABORT, 'the journal is append-only'); END;

CREATE TABLE meta (
  name  TEXT    PRIMARY KEY,
  value INTEGER NOT NULL
) STRICT, WITHOUT ROWID;
INSERT INTO meta VALUES ('applied_seq', 0);

CREATE TABLE series (
  id       INTEGER PRIMARY KEY,
  sensor   TEXT    NOT NULL,
  quantity INTEGER NOT NULL,
  bay      TEXT    NOT NULL,
  UNIQUE (sensor, quantity, bay)
) STRICT;

CREATE TABLE reading (
  series  INTEGER NOT NULL REFERENCES series (id),
  at_ms   INTEGER NOT NULL,
  seq     INTEGER NOT NULL,
  raw     REAL    NOT NULL,
  value   REAL    NOT NULL,
  verdict INTEGER NOT NULL,
  flags   INTEGER NOT NULL,  -- 1 the source told its time, 2 duplicate hint, 4 retained
  PRIMARY KEY (series, at_ms, seq)
) STRICT, WITHOUT ROWID;

CREATE TABLE reject (
  seq    INTEGER NOT NULL,
  why    INTEGER NOT NULL,
  detail TEXT    NOT NULL,
  PRIMARY KEY (seq, why, detail)
) STRICT, WITHOUT ROWID;

CREATE TABLE milestone (
  piece        INTEGER NOT NULL,
  which        INTEGER NOT NULL,
  announced_ms INTEGER,  -- null: taken back
  probability  REAL    NOT NULL,
  PRIMARY KEY (piece, which)
) STRICT, WITHOUT ROWID;

CREATE TABLE release (
  vehicle      INTEGER PRIMARY KEY,
  announced_ms INTEGER
) STRICT;

CREATE TABLE alert (
  id              TEXT    NOT NULL,
  raised_ms       INTEGER NOT NULL,
  rule            INTEGER NOT NULL,
  subject         TEXT    NOT NULL,
  level           INTEGER NOT NULL,
  cleared_ms      INTEGER,
  acknowledged_ms INTEGER,
  text            TEXT    NOT NULL,
  advice          TEXT    NOT NULL,
  PRIMARY KEY (id, raised_ms)
) STRICT, WITHOUT ROWID;
CREATE INDEX alert_raised ON alert (raised_ms);

CREATE TABLE gap (
  bay     TEXT    NOT NULL,
  from_ms INTEGER NOT NULL,
  to_ms   INTEGER NOT NULL,
  why     TEXT    NOT NULL,
  PRIMARY KEY (bay, from_ms)
) STRICT, WITHOUT ROWID;

-- AUTOINCREMENT: a number that named one message must never name another, or it would be marked in its stead.
CREATE TABLE outbox (
  id         INTEGER PRIMARY KEY AUTOINCREMENT,
  channel    TEXT    NOT NULL,
  topic      TEXT    NOT NULL,
  payload    TEXT    NOT NULL,
  retained   INTEGER NOT NULL,
  state      INTEGER NOT NULL DEFAULT 0,  -- pending, delivered, given up
  attempts   INTEGER NOT NULL DEFAULT 0,
  next_at_ms INTEGER NOT NULL DEFAULT 0,
  why        TEXT    NOT NULL DEFAULT ''
) STRICT;
CREATE INDEX outbox_pending ON outbox (channel, id) WHERE state = 0;
-- The same message again is a replay's echo, not a second message. A retained one states what is so now.
CREATE UNIQUE INDEX outbox_once ON outbox (channel, topic, payload) WHERE retained = 0;
)sql";

// Version 2. What tells who a customer is, outside the journal so that it can be erased: domain/personal.hpp.
constexpr std::string_view version_2 = R"sql(
CREATE TABLE personal (
  vehicle INTEGER NOT NULL,
  field   TEXT    NOT NULL,
  salt    BLOB    NOT NULL,
  text    TEXT    NOT NULL,
  PRIMARY KEY (vehicle, field)
) STRICT, WITHOUT ROWID;
)sql";

// Version 3. Settings are rows of the journal. Its rows stay as they are: only the check on their kind grows,
// as SQLite's page on ALTER TABLE does it ("Making Other Kinds Of Table Schema Changes").
constexpr std::string_view version_3 = R"sql(
PRAGMA writable_schema = ON;
UPDATE sqlite_schema
  SET sql = replace(replace(sql, 'BETWEEN 0 AND 4', 'BETWEEN 0 AND 5'), 'clock step, tick',
                    'clock step, tick, configured')
  WHERE type = 'table' AND name = 'journal';
PRAGMA writable_schema = RESET;
)sql";

// Version 4. So are what was shown, and the time that rows are given when their clock was wrong. Three tables
// that nobody read are gone: the engine has it all again after a start.
constexpr std::string_view version_4 = R"sql(
PRAGMA writable_schema = ON;
UPDATE sqlite_schema
  SET sql = replace(replace(sql, 'BETWEEN 0 AND 5', 'BETWEEN 0 AND 7'), 'tick, configured',
                    'tick, configured, shown, redated')
  WHERE type = 'table' AND name = 'journal';
PRAGMA writable_schema = RESET;
DROP TABLE milestone;
DROP TABLE release;
DROP TABLE gap;
)sql";

// Version 5. What an alert says is kept as a fact, its words in it; of older ones the words alone are known.
constexpr std::string_view version_5 = R"sql(
ALTER TABLE alert RENAME COLUMN text TO what;
UPDATE alert SET
  what = json_object('key', 'alerts.as-told', 'values', json_array(json_object('name', 'text', 'measure', 'text', 'text', what)), 'words', what),
  advice = json_object('key', 'alerts.as-told', 'values', json_array(json_object('name', 'text', 'measure', 'text', 'text', advice)), 'words', advice);
)sql";

// Version 6. What was announced is a row too.
constexpr std::string_view version_6 = R"sql(
PRAGMA writable_schema = ON;
UPDATE sqlite_schema
  SET sql = replace(replace(sql, 'BETWEEN 0 AND 7', 'BETWEEN 0 AND 8'), 'shown, redated',
                    'shown, redated, announced')
  WHERE type = 'table' AND name = 'journal';
PRAGMA writable_schema = RESET;
)sql";

// Version 7. And what a vehicle taught of the shop.
constexpr std::string_view version_7 = R"sql(
PRAGMA writable_schema = ON;
UPDATE sqlite_schema
  SET sql = replace(replace(sql, 'BETWEEN 0 AND 8', 'BETWEEN 0 AND 9'), 'redated, announced',
                    'redated, announced, learnt')
  WHERE type = 'table' AND name = 'journal';
PRAGMA writable_schema = RESET;
)sql";

// Version 8. What outlooks learn from, kept longer than the rows that a start replays.
constexpr std::string_view version_8 = R"sql(
CREATE TABLE air_hour (
  bay         TEXT    NOT NULL,
  until_ms    INTEGER NOT NULL,
  temperature REAL    NOT NULL,  -- mean of what was measured of the hour, C
  vapour      REAL    NOT NULL,  -- of the vapour pressure, Pa
  PRIMARY KEY (bay, until_ms)
) STRICT, WITHOUT ROWID;
)sql";

constexpr std::array steps{version_1, version_2, version_3, version_4,
                           version_5, version_6, version_7, version_8};

std::filesystem::path copy_of(const std::filesystem::path& path, std::int64_t version) {
  return path.string() + ".version-" + std::to_string(version);
}

}  // namespace

std::span<const std::string_view> schema_steps() {
  return steps;
}

Connection open_for_writing(const std::filesystem::path& path) {
  Connection connection(path, Connection::Access::read_write);
  if (connection.text("PRAGMA journal_mode = WAL") != "wal") {
    throw SqlError(SqlError::Kind::other, "the file system cannot hold a write-ahead log");
  }
  connection.run(
      "PRAGMA synchronous = FULL;"
      "PRAGMA foreign_keys = ON;"
      "PRAGMA trusted_schema = OFF;"
      "PRAGMA cell_size_check = ON;"
      "PRAGMA secure_delete = ON;"  // what is deleted is overwritten: plates and customers' names
      "PRAGMA journal_size_limit = 16777216;");
  return connection;
}

void migrate(Connection& connection, const std::filesystem::path& path,
             std::span<const std::string_view> all_steps) {
  const auto known = static_cast<std::int64_t>(all_steps.size());
  const auto version = connection.integer("PRAGMA user_version");
  const bool fresh = connection.integer("SELECT count(*) FROM sqlite_schema") == 0;
  if (!fresh && connection.integer("PRAGMA application_id") != application_id) {
    throw SqlError(SqlError::Kind::other, "this is not a dryclock database");
  }
  if (version > known) {
    throw SqlError(SqlError::Kind::other, "a newer dryclock has written this database (schema version " +
                                              std::to_string(version) + "; this program knows " +
                                              std::to_string(known) + ")");
  }
  if (version == known) {
    return;
  }
  if (!fresh) {
    const auto copy = copy_of(path, version).string();
    std::filesystem::remove(copy);  // of an earlier try that did not get to its end
    Statement(connection, "VACUUM INTO ?1").with(copy).run();
    log::info("database: schema version {} to {}; a copy is in {}", version, known, copy);
  }
  for (auto step = version; step < known; ++step) {
    Transaction transaction(connection);
    connection.run(std::string{all_steps[static_cast<std::size_t>(step)]});
    connection.run("PRAGMA application_id = " + std::to_string(application_id));
    connection.run("PRAGMA user_version = " + std::to_string(step + 1));
    transaction.commit();
  }
}

std::vector<std::filesystem::path> copies_of(const std::filesystem::path& path) {
  std::vector<std::filesystem::path> found;
  const auto known = static_cast<std::int64_t>(steps.size());
  for (std::int64_t version = 1; version < known; ++version) {
    if (auto copy = copy_of(path, version); std::filesystem::exists(copy)) {
      found.push_back(std::move(copy));
    }
  }
  return found;
}

}  // namespace dryclock::store
