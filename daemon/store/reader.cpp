#include "store/reader.hpp"

#include "store/columns.hpp"
#include "store/schema.hpp"
#include "store/sqlite.hpp"
#include "wire/answer_json.hpp"

namespace dryclock::store {
namespace {

constexpr const char* journal_columns =
    "SELECT seq, kind, received_ms, topic, payload, qos, flags, boottime_ms, session FROM journal ";
constexpr const char* alert_columns =
    "SELECT id, rule, subject, level, raised_ms, cleared_ms, acknowledged_ms, what, advice FROM alert ";

Time time_of(const Statement& row, int column) {
  return from_unix_ms(row.integer(column));
}

std::optional<Time> optional_time_of(const Statement& row, int column) {
  return row.is_null(column) ? std::nullopt : std::optional{time_of(row, column)};
}

template <class E>
E enum_of(const Statement& row, int column) {
  return static_cast<E>(row.integer(column));
}

JournalRow journal_row(const Statement& row) {
  const auto flags = row.integer(6);
  return {.seq = row.integer(0),
          .kind = enum_of<RowKind>(row, 1),
          .message = {.topic = row.text(3),
                      .payload = row.text(4),
                      .received_at = time_of(row, 2),
                      .qos = static_cast<int>(row.integer(5)),
                      .dup = (flags & journal_dup) != 0,
                      .retained = (flags & journal_retained) != 0,
                      .cut = (flags & journal_cut) != 0},
          .boot_time = Millis{row.integer(7)},
          .session = row.integer(8)};
}

ScreenedReading screened_reading(const Statement& row) {
  const auto flags = row.integer(5);
  return {.seq = row.integer(1),
          .reading = {.sensor = row.text(6),
                      .bay = row.text(8),
                      .quantity = enum_of<Quantity>(row, 7),
                      .at = time_of(row, 0),
                      .source_time = (flags & reading_source_time) != 0,
                      .raw = row.real(2),
                      .value = row.real(3),
                      .dup = (flags & reading_dup) != 0,
                      .retained = (flags & reading_retained) != 0},
          .verdict = enum_of<Verdict>(row, 4)};
}

// One that cannot be read stands as it is.
Fact fact(const Statement& row, int column) {
  auto read = wire::read_fact(row.text(column));
  return read ? std::move(*read) : Fact{{}, {}, row.text(column)};
}

AlertSummary alert(const Statement& row) {
  return {.id = row.text(0),
          .rule = enum_of<AlertRule>(row, 1),
          .subject = row.text(2),
          .level = enum_of<AlertLevel>(row, 3),
          .raised = time_of(row, 4),
          .cleared = optional_time_of(row, 5),
          .acknowledged = optional_time_of(row, 6),
          .what = fact(row, 7),
          .advice = fact(row, 8)};
}

}  // namespace

struct Reader::State {
  explicit State(const std::filesystem::path& p) : path(p), connection(p, Connection::Access::read_only) {}

  std::filesystem::path path;
  Connection connection;

  template <class Answer>
  Result<Answer> ask(auto&& question) {
    try {
      return Answer{question()};
    } catch (const SqlError& error) {
      return Problem{error.what(), path.string()};
    }
  }

  // All rows of a query, each through `make`.
  template <class Row, class... Values>
  Result<std::vector<Row>> all(const std::string& sql, Row (*make)(const Statement&),
                               const Values&... values) {
    return ask<std::vector<Row>>([&] {
      std::vector<Row> rows;
      Statement statement(connection, sql);
      statement.with(values...);
      while (statement.step()) {
        rows.push_back(make(statement));
      }
      return rows;
    });
  }
};

Reader::Reader(std::unique_ptr<State> state) : state_(std::move(state)) {}
Reader::Reader(Reader&&) noexcept = default;
Reader& Reader::operator=(Reader&&) noexcept = default;
Reader::~Reader() = default;

Result<Reader> Reader::open(const std::filesystem::path& path) {
  try {
    auto state = std::make_unique<State>(path);
    const bool ours = state->connection.integer("PRAGMA application_id") == application_id;
    const auto version = state->connection.integer("PRAGMA user_version");
    const auto known = static_cast<std::int64_t>(schema_steps().size());
    if (!ours || version != known) {
      return Problem{!ours ? "this is not a dryclock database"
                     : version < known
                         ? "an older dryclock has written this; the next start brings it up to date"
                         : "a newer dryclock has written this",
                     path.string()};
    }
    return Reader(std::move(state));
  } catch (const SqlError& error) {
    return Problem{error.what(), path.string()};
  }
}

Result<std::vector<JournalRow>> Reader::rows(Seq from, std::size_t limit) const {
  return state_->all(std::string{journal_columns} + "WHERE seq >= ?1 ORDER BY seq LIMIT ?2", &journal_row,
                     from, static_cast<std::int64_t>(limit));
}

Result<void> Reader::walk(Seq first, Seq last, const std::function<bool(JournalRow)>& visit) const {
  constexpr std::size_t batch = 4096;
  for (Seq next = first; next <= last;) {
    auto some = rows(next, batch);
    if (!some) {
      return some.error();
    }
    if (some->empty()) {
      return {};
    }
    next = some->back().seq + 1;
    for (JournalRow& row : *some) {
      if (row.seq > last || !visit(std::move(row))) {
        return {};
      }
    }
  }
  return {};
}

Result<std::vector<JournalRow>> Reader::rows_of(RowKind kind, Seq from) const {
  // "kind <> 0" lets the query use the partial index.
  return state_->all(
      std::string{journal_columns} + "WHERE kind = ?1 AND kind <> 0 AND seq >= ?2 ORDER BY seq", &journal_row,
      code_of(kind), from);
}

Result<std::vector<JournalRow>> Reader::rows_of(RowKind kind, const std::string& topic, Seq last) const {
  return state_->all(std::string{journal_columns} +
                         "WHERE kind = ?1 AND kind <> 0 AND seq <= ?2 AND topic IN ('', ?3) ORDER BY seq",
                     &journal_row, code_of(kind), last, topic);
}

Result<std::optional<Stamp>> Reader::stamp(Seq seq) const {
  return state_->ask<std::optional<Stamp>>([&]() -> std::optional<Stamp> {
    Statement row(state_->connection,
                  "SELECT kind, received_ms, boottime_ms, session FROM journal WHERE seq = ?1");
    if (!row.with(seq).step()) {
      return std::nullopt;
    }
    return Stamp{enum_of<RowKind>(row, 0), time_of(row, 1), Millis{row.integer(2)}, row.integer(3)};
  });
}

Result<std::vector<SessionRow>> Reader::sessions() const {
  return state_->all<SessionRow>(
      "SELECT id, " + std::string{boot_column} + ", clock_state FROM session ORDER BY id",
      [](const Statement& row) -> SessionRow {
        return {.id = row.integer(0), .boot = row.text(1), .clock_state = row.text(2)};
      });
}

Result<Extent> Reader::extent() const {
  return state_->ask<Extent>([&]() -> Extent {
    Statement ends(state_->connection,
                   "SELECT seq, received_ms FROM journal WHERE seq IN ((SELECT min(seq) FROM journal), "
                   "(SELECT max(seq) FROM journal)) ORDER BY seq");
    Extent extent;
    while (ends.step()) {
      if (extent.first == 0) {
        extent.first = ends.integer(0);
        extent.first_at = time_of(ends, 1);
      }
      extent.last = ends.integer(0);
      extent.last_at = time_of(ends, 1);
    }
    return extent;
  });
}

Result<std::vector<PersonalText>> Reader::personal(VehicleId vehicle) const {
  return state_->all<PersonalText>(
      "SELECT field, salt, text FROM personal WHERE vehicle = ?1 ORDER BY field DESC",
      [](const Statement& row) -> PersonalText {
        return {.field = row.text(0), .salt = row.text(1), .text = row.text(2)};
      },
      vehicle);
}

Result<Seq> Reader::applied() const {
  return state_->ask<Seq>(
      [&] { return state_->connection.integer("SELECT value FROM meta WHERE name = 'applied_seq'"); });
}

Result<std::vector<ScreenedReading>> Reader::readings(const std::string& sensor, Quantity quantity, Time from,
                                                      Time to) const {
  return state_->all(
      "SELECT at_ms, seq, raw, value, verdict, flags, sensor, quantity, bay FROM reading "
      "JOIN series ON series.id = reading.series "
      "WHERE sensor = ?1 AND quantity = ?2 AND at_ms > ?3 AND at_ms <= ?4 ORDER BY at_ms, seq",
      &screened_reading, sensor, code_of(quantity), to_unix_ms(from), to_unix_ms(to));
}

Result<std::vector<AirHour>> Reader::air_hours(Time from) const {
  return state_->all<AirHour>(
      "SELECT bay, until_ms, temperature, vapour FROM air_hour WHERE until_ms > ?1 ORDER BY bay, until_ms",
      [](const Statement& row) -> AirHour {
        return {.bay = row.text(0), .until = time_of(row, 1), .mean = {row.real(2), row.real(3)}};
      },
      to_unix_ms(from));
}

Result<std::vector<RefusedRow>> Reader::refused() const {
  return state_->all<RefusedRow>(
      "SELECT seq, detail FROM reject WHERE why = ?1 ORDER BY seq",
      [](const Statement& row) -> RefusedRow { return {.row = row.integer(0), .why = row.text(1)}; },
      code_of(RejectReason::bad_event));
}

Result<std::vector<AlertSummary>> Reader::alerts_open_at(Time at) const {
  return state_->all(
      std::string{alert_columns} +
          "WHERE raised_ms <= ?1 AND (cleared_ms IS NULL OR cleared_ms > ?1) ORDER BY raised_ms, id",
      &alert, to_unix_ms(at));
}

Result<std::vector<AlertSummary>> Reader::alerts_raised(Time from, Time to) const {
  return state_->all(
      std::string{alert_columns} + "WHERE raised_ms > ?1 AND raised_ms <= ?2 ORDER BY raised_ms DESC, id",
      &alert, to_unix_ms(from), to_unix_ms(to));
}

Result<std::vector<OutboxRow>> Reader::pending(const std::string& channel, std::size_t limit) const {
  return state_->all<OutboxRow>(
      "SELECT id, channel, topic, payload, retained, attempts, next_at_ms FROM outbox "
      "WHERE channel = ?1 AND state = 0 ORDER BY id LIMIT ?2",
      [](const Statement& row) -> OutboxRow {
        return {.id = row.integer(0),
                .message = {.channel = row.text(1),
                            .topic = row.text(2),
                            .payload = row.text(3),
                            .retained = row.integer(4) != 0},
                .attempts = static_cast<int>(row.integer(5)),
                .next_at = time_of(row, 6)};
      },
      channel, static_cast<std::int64_t>(limit));
}

}  // namespace dryclock::store
