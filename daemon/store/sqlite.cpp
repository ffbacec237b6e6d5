#include "store/sqlite.hpp"

#include <sqlite3.h>

namespace dryclock::store {
namespace {

[[noreturn]] void fail(sqlite3* handle, int code) {
  const int primary = code & 0xff;
  auto kind = SqlError::Kind::other;
  if (primary == SQLITE_FULL) {
    kind = SqlError::Kind::disk_full;
  } else if (primary == SQLITE_CONSTRAINT || primary == SQLITE_TOOBIG || primary == SQLITE_MISMATCH) {
    kind = SqlError::Kind::data;
  }
  std::string what = sqlite3_errstr(code);
  if (handle != nullptr && sqlite3_errcode(handle) == primary) {
    what = sqlite3_errmsg(handle);
  }
  throw SqlError(kind, "SQLite: " + what + " (" + std::to_string(code) + ")");
}

}  // namespace

void Connection::Close::operator()(sqlite3* handle) const {
  sqlite3_close_v2(handle);
}

Connection::Connection(const std::filesystem::path& path, Access access) {
  // NOMUTEX: one thread at a time, see above.
  const int flags =
      SQLITE_OPEN_NOMUTEX | SQLITE_OPEN_EXRESCODE |
      (access == Access::read_only ? SQLITE_OPEN_READONLY : SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE);
  sqlite3* handle = nullptr;
  const int code = sqlite3_open_v2(path.c_str(), &handle, flags, nullptr);
  handle_.reset(handle);
  if (code != SQLITE_OK) {
    fail(handle, code);
  }
  sqlite3_busy_timeout(handle, 5'000);
}

void Connection::run(const std::string& sql) {
  const int code = sqlite3_exec(handle_.get(), sql.c_str(), nullptr, nullptr, nullptr);
  if (code != SQLITE_OK) {
    fail(handle_.get(), code);
  }
}

std::int64_t Connection::integer(const std::string& sql) {
  return Statement(*this, sql).first().value_or(0);
}

std::string Connection::text(const std::string& sql) {
  Statement statement(*this, sql);
  return statement.step() ? statement.text(0) : std::string{};
}

bool Connection::in_transaction() const {
  return sqlite3_get_autocommit(handle_.get()) == 0;
}

int Connection::changes() const {
  return sqlite3_changes(handle_.get());
}

std::int64_t Connection::last_row_id() const {
  return sqlite3_last_insert_rowid(handle_.get());
}

void Statement::Finalize::operator()(sqlite3_stmt* handle) const {
  sqlite3_finalize(handle);
}

Statement::Statement(Connection& connection, std::string_view sql) {
  sqlite3_stmt* handle = nullptr;
  const int code = sqlite3_prepare_v3(connection.handle_.get(), sql.data(), static_cast<int>(sql.size()),
                                      SQLITE_PREPARE_PERSISTENT, &handle, nullptr);
  handle_.reset(handle);
  if (code != SQLITE_OK) {
    fail(connection.handle_.get(), code);
  }
}

bool Statement::step() {
  const int code = sqlite3_step(handle_.get());
  if (code == SQLITE_ROW) {
    return true;
  }
  if (code != SQLITE_DONE) {
    check(code);
  }
  return false;
}

void Statement::run() {
  while (step()) {
  }
  reset();
}

std::optional<std::int64_t> Statement::first() {
  const auto value = step() ? std::optional{integer(0)} : std::nullopt;
  reset();
  return value;
}

bool Statement::is_null(int column) const {
  return sqlite3_column_type(handle_.get(), column) == SQLITE_NULL;
}

std::int64_t Statement::integer(int column) const {
  return sqlite3_column_int64(handle_.get(), column);
}

double Statement::real(int column) const {
  return sqlite3_column_double(handle_.get(), column);
}

std::string Statement::text(int column) const {
  const auto* bytes = static_cast<const char*>(sqlite3_column_blob(handle_.get(), column));
  const int size = sqlite3_column_bytes(handle_.get(), column);
  return bytes == nullptr ? std::string{} : std::string(bytes, static_cast<std::size_t>(size));
}

void Statement::reset() {
  sqlite3_reset(handle_.get());  // repeats the last step's error, which has been thrown already
}

void Statement::bind(int index, std::int64_t value) {
  check(sqlite3_bind_int64(handle_.get(), index, value));
}

void Statement::bind(int index, double value) {
  check(sqlite3_bind_double(handle_.get(), index, value));
}

void Statement::bind(int index, std::string_view value) {
  // A null pointer would bind NULL.
  check(sqlite3_bind_text64(handle_.get(), index, value.data() == nullptr ? "" : value.data(), value.size(),
                            SQLITE_TRANSIENT, SQLITE_UTF8));
}

void Statement::bind(int index, Blob value) {
  check(sqlite3_bind_blob64(handle_.get(), index, value.bytes.data() == nullptr ? "" : value.bytes.data(),
                            value.bytes.size(), SQLITE_TRANSIENT));
}

void Statement::bind(int index, std::nullopt_t /*none*/) {
  check(sqlite3_bind_null(handle_.get(), index));
}

void Statement::check(int code) const {
  if (code != SQLITE_OK) {
    fail(sqlite3_db_handle(handle_.get()), code);
  }
}

Transaction::Transaction(Connection& connection) : connection_(connection) {
  connection_.run("BEGIN IMMEDIATE");
}

Transaction::~Transaction() {
  // A full disk has rolled back already.
  if (connection_.in_transaction()) {
    try {
      connection_.run("ROLLBACK");
    } catch (const SqlError&) {  // the connection is given up by whoever sees the first error
    }
  }
}

void Transaction::commit() {
  connection_.run("COMMIT");
}

}  // namespace dryclock::store
