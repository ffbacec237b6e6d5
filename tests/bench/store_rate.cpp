// Rows a second into the journal, each on disk before the next: through the writer's thread, as the MQTT
// callback does it, against SQLite alone with the same table, on the same disk in the same run. Repeats take
// turns.
#include <sqlite3.h>

#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <memory>
#include <string>
#include <vector>

#include "stopwatch.hpp"
#include "store/writer.hpp"
#include "support/scratch_folder.hpp"

using namespace dryclock;
using bench::figure;
using bench::median;

namespace {

constexpr int rows_a_turn = 50;
constexpr int turns = 60;
const std::string payload = R"({"temperature":21.5,"humidity":48.2,"battery":97,"linkquality":120})";

void check(int code) {
  if (code != SQLITE_OK && code != SQLITE_DONE && code != SQLITE_ROW) {
    std::fprintf(stderr, "SQLite: %s\n", sqlite3_errstr(code));
    std::exit(1);
  }
}

class SqliteAlone {
 public:
  SqliteAlone() {
    check(sqlite3_open((folder_ / "raw.db").c_str(), &database_));
    check(sqlite3_exec(
        database_,
        "PRAGMA journal_mode = WAL; PRAGMA synchronous = FULL;"
        "CREATE TABLE journal (seq INTEGER PRIMARY KEY, kind INTEGER NOT NULL, received_ms INTEGER "
        "NOT NULL, topic TEXT NOT NULL, payload BLOB NOT NULL) STRICT",
        nullptr, nullptr, nullptr));
    check(sqlite3_prepare_v2(database_, "INSERT INTO journal VALUES (NULL, 0, 0, 'bay/front/air', ?1)", -1,
                             &insert_, nullptr));
  }
  SqliteAlone(const SqliteAlone&) = delete;
  SqliteAlone& operator=(const SqliteAlone&) = delete;
  ~SqliteAlone() {
    sqlite3_finalize(insert_);
    sqlite3_close(database_);
  }
  void add_row() {
    check(sqlite3_bind_blob(insert_, 1, payload.data(), static_cast<int>(payload.size()), SQLITE_STATIC));
    check(sqlite3_step(insert_));
    check(sqlite3_reset(insert_));
  }

 private:
  test::ScratchFolder folder_;
  sqlite3* database_ = nullptr;
  sqlite3_stmt* insert_ = nullptr;
};

class OurWriter {
 public:
  void add_row() {
    const auto appended = writer_->append(
        {.kind = RowKind::message,
         .message = {.topic = "bay/front/air", .payload = payload, .received_at = {}, .qos = 1},
         .key = {}},
        Millis{10'000});
    if (!appended.has_value()) {
      std::fprintf(stderr, "%s\n", to_string(appended.error()).c_str());
      std::exit(1);
    }
  }

 private:
  test::ScratchFolder folder_;
  std::unique_ptr<store::Writer> writer_ =
      store::Writer::open({.path = folder_ / "a.db", .ballast_bytes = 0}, {}, {}).value();
};

template <class Database>
double rows_per_second(Database& database) {
  const auto begin = std::chrono::steady_clock::now();
  for (int i = 0; i < rows_a_turn; ++i) {
    database.add_row();
  }
  return rows_a_turn / std::chrono::duration<double>(std::chrono::steady_clock::now() - begin).count();
}

}  // namespace

int main(int argc, char** argv) {
  if (argc > 1 && std::string{argv[1]} != "journal_rate_ratio") {
    return 0;  // another figure is asked for
  }
  SqliteAlone sqlite_alone;
  OurWriter our_writer;
  std::vector<double> alone;
  std::vector<double> ours;
  std::vector<double> ratio;
  for (int turn = 0; turn < turns; ++turn) {
    alone.push_back(rows_per_second(sqlite_alone));
    ours.push_back(rows_per_second(our_writer));
    ratio.push_back(ours.back() / alone.back());
  }
  figure("journal_rate", median(ours), "rows/s");
  figure("journal_rate_sqlite_alone", median(alone), "rows/s");
  figure("journal_rate_ratio", median(ratio), "1");
}
