// Rows a second into the journal, each on disk before the next: through the writer's thread, as the MQTT
// callback does it, against SQLite alone with the same table, on the same disk in the same run. Repeats take
// turns.
#include <sqlite3.h>

#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <string>

#include "bench/stopwatch.hpp"
#include "store/writer.hpp"
#include "support/scratch_folder.hpp"

using namespace dryclock;

namespace {

constexpr int rows = 2'000;
constexpr int turns = 5;
const std::string payload = R"({"temperature":21.5,"humidity":48.2,"battery":97,"linkquality":120})";

void check(int code) {
  if (code != SQLITE_OK && code != SQLITE_DONE && code != SQLITE_ROW) {
    std::fprintf(stderr, "SQLite: %s\n", sqlite3_errstr(code));
    std::exit(1);
  }
}

double seconds_of_sqlite_alone() {
  const test::ScratchFolder folder;
  sqlite3* database = nullptr;
  check(sqlite3_open((folder / "raw.db").c_str(), &database));
  check(sqlite3_exec(
      database,
      "PRAGMA journal_mode = WAL; PRAGMA synchronous = FULL;"
      "CREATE TABLE journal (seq INTEGER PRIMARY KEY, kind INTEGER NOT NULL, received_ms INTEGER "
      "NOT NULL, topic TEXT NOT NULL, payload BLOB NOT NULL) STRICT",
      nullptr, nullptr, nullptr));
  sqlite3_stmt* insert = nullptr;
  check(sqlite3_prepare_v2(database, "INSERT INTO journal VALUES (NULL, 0, ?1, 'bay/front/air', ?2)", -1,
                           &insert, nullptr));
  const double seconds = bench::seconds_of(
      [&] {
        for (int i = 0; i < rows; ++i) {
          check(sqlite3_bind_int64(insert, 1, i));
          check(
              sqlite3_bind_blob(insert, 2, payload.data(), static_cast<int>(payload.size()), SQLITE_STATIC));
          check(sqlite3_step(insert));
          check(sqlite3_reset(insert));
        }
      },
      1);
  sqlite3_finalize(insert);
  sqlite3_close(database);
  return seconds;
}

double seconds_of_the_writer() {
  const test::ScratchFolder folder;
  auto writer = store::Writer::open({.path = folder / "a.db", .ballast_bytes = 0}, {}, {}).value();
  return bench::seconds_of(
      [&] {
        for (int i = 0; i < rows; ++i) {
          const auto appended = writer->append(
              {.kind = RowKind::message,
               .message = {.topic = "bay/front/air", .payload = payload, .received_at = {}, .qos = 1},
               .key = {}},
              Millis{10'000});
          if (!appended.has_value()) {
            std::fprintf(stderr, "%s\n", to_string(appended.error()).c_str());
            std::exit(1);
          }
        }
      },
      1);
}

double median(std::vector<double> values) {
  std::sort(values.begin(), values.end());
  return values[values.size() / 2];
}

}  // namespace

int main() {
  std::vector<double> alone;
  std::vector<double> writer;
  std::vector<double> ratio;
  for (int turn = 0; turn < turns; ++turn) {
    alone.push_back(rows / seconds_of_sqlite_alone());
    writer.push_back(rows / seconds_of_the_writer());
    ratio.push_back(writer.back() / alone.back());
  }
  bench::figure("journal_rate", median(writer), "rows/s");
  bench::figure("journal_rate_sqlite_alone", median(alone), "rows/s");
  bench::figure("journal_rate_ratio", median(ratio), "1");
}
