// The only read-write connection to the database, on its own thread. Takes all that is queued into one
// transaction (group commit), at once if a journal row waits; derived rows alone may wait a moment for
// company.
//
// Rows get their numbers in the order in which they become durable, and on_rows hands them out in that order.
// A failed commit fails the journal rows in it (nobody was told that they are kept) and the writer stays
// failed until the database has been re-opened and checked; derived rows and outbox marks wait and are tried
// again.
#pragma once

#include <filesystem>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "base/clock.hpp"
#include "base/result.hpp"
#include "domain/effects.hpp"
#include "domain/outbox.hpp"
#include "domain/personal.hpp"
#include "domain/types.hpp"

namespace dryclock::store {

// One start of the daemon: with each row's boot time it tells which wall times can be believed.
struct Session {
  std::string boot_id;  // of the kernel; empty where it is hidden
  std::string version;  // of the daemon
  // "synchronized" (with a time server), "kept" (by the clock chip), "unsynchronized"
  std::string clock_state;
  Time started;
};

struct WriterOptions {
  std::filesystem::path path;
  // Room that is freed when the disk is full; 0: none. A checkpoint of the write-ahead log (4 MiB) takes its
  // part of it first.
  std::int64_t ballast_bytes = 32 * 1024 * 1024;
  Millis effects_wait{100};                        // derived rows without a journal row wait this long
  Millis reopen_every{1'000};                      // while failed
  std::function<Millis()> since_boot = boot_time;  // of each row; any thread
};

struct StoreHealth {
  bool failing = false;        // nothing can be kept now; it goes on trying
  bool ballast_spent = false;  // the disk was full: what is written now uses the last reserve
  std::string text;            // for people
};

// Called on the writer's thread; must return soon and not call back into the writer's blocking functions.
struct WriterHooks {
  std::function<void(std::vector<JournalRow>)> on_rows;  // just made durable, in order
  std::function<void()> on_outbox;                       // new messages are in the outbox
  std::function<void(StoreHealth)> on_health;            // when it changes
};

// What is to be journalled. `key`: the sender's idempotency key; a row with the same key is not written
// again. `personal` is kept with it, in the same transaction but outside the journal, by the row's number as
// the vehicle; `forget`: of that vehicle it is erased, from the write-ahead log and migrate()'s copies too.
// `shown_before`: a row of what was shown, written right before this one, with it or not at all. `parsed`
// goes along with the row to on_rows.
struct Entry {
  RowKind kind = RowKind::message;
  RawMessage message;
  std::string key;
  std::vector<PersonalText> personal{};
  VehicleId forget = 0;
  std::optional<RawMessage> shown_before{};
  std::shared_ptr<const Event> parsed{};
};
struct Appended {
  Seq seq = 0;
  bool repeated = false;  // the key was known: this is the first row again
};
using AppendDone = std::function<void(Result<Appended>)>;

class Writer {
 public:
  // Opens or creates the database, brings its schema up to date and starts the thread.
  // Problem: cannot be opened, damaged, or written by a newer dryclock.
  [[nodiscard]] static Result<std::unique_ptr<Writer>> open(WriterOptions options, const Session& session,
                                                            WriterHooks hooks);
  ~Writer();  // stop()

  // Waits until the row is on disk, at most `cap`. Problem: it is not, or nobody can tell yet; a row whose
  // cap ran out while it was still queued is withdrawn. Any thread but the writer's.
  [[nodiscard]] Result<Appended> append(Entry entry, Millis cap);
  // `done` is called on the writer's thread, after on_rows had the row. Any thread.
  void append_async(Entry entry, AppendDone done);
  // Derived rows, outbox rows and `applied` in one transaction. Any thread, in the order of the calls.
  void commit(Effects effects);
  void mark(OutboxMark mark);
  // Messages that wait for a channel that is none of these will never be delivered: they are given up.
  void keep_channels(std::vector<std::string> channels);
  // Somebody vouches for the clock of this session now: its clock_state.
  void clock_is(std::string state);
  // Moves the write-ahead log into the database file and forgets old delivered messages: once a day.
  void tidy();
  // Writes what is queued, checkpoints, ends the thread. Nothing may be called after it.
  void stop();

  [[nodiscard]] StoreHealth health() const;    // any thread
  [[nodiscard]] std::int64_t session() const;  // the number of this start; any thread

 private:
  struct State;
  explicit Writer(std::unique_ptr<State> state);
  std::unique_ptr<State> state_;
};

}  // namespace dryclock::store
