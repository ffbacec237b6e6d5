#include "made_journal.hpp"

#include "store/schema.hpp"
#include "store/sqlite.hpp"

namespace dryclock::history {
namespace {

store::Connection writable(const test::ScratchFolder& folder) {
  return store::open_for_writing(folder / "a.db");
}

}  // namespace

MadeJournal::MadeJournal() {
  auto connection = writable(folder_);
  store::migrate(connection, folder_ / "a.db", store::schema_steps());
}

void MadeJournal::start(const std::string& boot, bool synchronized) {
  auto connection = writable(folder_);
  store::Statement(connection,
                   "INSERT INTO session (boot_id, started_ms, version, clock_state) VALUES (?1, 0, 'x', ?2)")
      .with(boot, std::string{synchronized ? "synchronized" : "unsynchronized"})
      .run();
  session_ = connection.last_row_id();
}

Seq MadeJournal::add(RowKind kind, Time wall, Millis boot_time, const std::string& payload,
                     const std::string& topic) {
  auto connection = writable(folder_);
  store::Statement(connection,
                   "INSERT INTO journal (seq, kind, received_ms, topic, payload, qos, flags, boottime_ms, "
                   "session) VALUES (?1, ?2, ?3, ?7, CAST(?4 AS BLOB), 0, 0, ?5, ?6)")
      .with(++last_, static_cast<std::int64_t>(kind), to_unix_ms(wall), payload,
            std::int64_t{boot_time.count()}, session_, topic)
      .run();
  return last_;
}

store::Reader MadeJournal::reader() const {
  return store::Reader::open(folder_ / "a.db").value();
}

}  // namespace dryclock::history
