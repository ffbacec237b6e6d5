// A thin layer over SQLite: handles that close themselves, binding by type, errors as one exception. The
// exception stays inside this folder: writer and reader turn it into a Problem.
// Not thread-safe: a connection and its statements belong to one thread at a time.
#pragma once

#include <cstdint>
#include <filesystem>
#include <memory>
#include <optional>
#include <stdexcept>
#include <string>
#include <string_view>

struct sqlite3;
struct sqlite3_stmt;

namespace dryclock::store {

class SqlError : public std::runtime_error {
 public:
  // What a person needs to tell apart; `data`: this statement's values alone are at fault.
  enum class Kind : std::uint8_t { other, disk_full, data };
  SqlError(Kind kind, const std::string& what) : std::runtime_error(what), kind_(kind) {}
  [[nodiscard]] Kind kind() const { return kind_; }

 private:
  Kind kind_;
};

class Connection {
 public:
  enum class Access : std::uint8_t { read_only, read_write };  // read_write creates the file
  Connection(const std::filesystem::path& path, Access access);

  void run(const std::string& sql);                            // statements without values; rows are ignored
  [[nodiscard]] std::int64_t integer(const std::string& sql);  // the first column of the first row
  [[nodiscard]] std::string text(const std::string& sql);
  [[nodiscard]] bool in_transaction() const;
  [[nodiscard]] int changes() const;  // rows touched by the last statement
  [[nodiscard]] std::int64_t last_row_id() const;

 private:
  friend class Statement;
  struct Close {
    void operator()(sqlite3* handle) const;
  };
  std::unique_ptr<sqlite3, Close> handle_;
};

struct Blob {
  std::string_view bytes;
};

class Statement {
 public:
  Statement(Connection& connection, std::string_view sql);

  // Binds all values from ?1 on. Then step() until it is false, or run() for statements without rows.
  template <class... Values>
  Statement& with(const Values&... values) {
    reset();
    int index = 0;
    (bind(++index, values), ...);
    return *this;
  }
  bool step();  // true: a row is there
  void run();
  // The first column of the first row; absent without a row. Ends the statement, so that no snapshot stays
  // open.
  [[nodiscard]] std::optional<std::int64_t> first();

  // Columns count from 0.
  [[nodiscard]] bool is_null(int column) const;
  [[nodiscard]] std::int64_t integer(int column) const;
  [[nodiscard]] double real(int column) const;
  [[nodiscard]] std::string text(int column) const;  // text or blob, as bytes

 private:
  void reset();
  void bind(int index, std::int64_t value);
  void bind(int index, double value);
  void bind(int index, std::string_view value);
  void bind(int index, const std::string& value) { bind(index, std::string_view{value}); }
  void bind(int index, Blob value);
  void bind(int index, std::nullopt_t none);
  template <class T>
  void bind(int index, const std::optional<T>& value) {
    value ? bind(index, *value) : bind(index, std::nullopt);
  }
  void check(int code) const;

  struct Finalize {
    void operator()(sqlite3_stmt* handle) const;
  };
  std::unique_ptr<sqlite3_stmt, Finalize> handle_;
};

// Rolls back unless commit() was reached.
class Transaction {
 public:
  explicit Transaction(Connection& connection);
  Transaction(const Transaction&) = delete;
  Transaction& operator=(const Transaction&) = delete;
  ~Transaction();
  void commit();

 private:
  Connection& connection_;
};

}  // namespace dryclock::store
