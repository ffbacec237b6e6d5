#include "store/writer.hpp"

#include <algorithm>
#include <chrono>
#include <condition_variable>
#include <deque>
#include <future>
#include <iterator>
#include <mutex>
#include <optional>
#include <stop_token>
#include <thread>
#include <variant>

#include "base/clock.hpp"
#include "base/log.hpp"
#include "store/ballast.hpp"
#include "store/schema.hpp"
#include "store/sqlite.hpp"
#include "store/tables.hpp"

namespace dryclock::store {
namespace {

using Steady = std::chrono::steady_clock;

struct Append {
  std::uint64_t ticket = 0;  // to withdraw it by
  Entry entry;
  Millis boot_time{};
  AppendDone done;
};
struct KeepChannels {
  std::vector<std::string> channels;
};
struct ClockIs {
  std::string state;
};
struct Tidy {};
using Work = std::variant<Append, Effects, OutboxMark, KeepChannels, ClockIs, Tidy>;

// What cannot wait for company: somebody stands behind it.
bool is_urgent(const Work& work) {
  return std::holds_alternative<Append>(work) || std::holds_alternative<Tidy>(work);
}

// Less than this is a full disk: without it the writer would recover for one small row, and fail again.
constexpr std::uintmax_t least_room = 1024 * 1024;

const Problem not_now{"the database cannot be written now", ""};

// Before the database's own: where it ends between the two, the sender asks again. Throws SqlError of the
// kind `data`, which refuses the row and names the copy: nobody is told that it is erased while it is not.
void erase_in_copies(const std::filesystem::path& path, VehicleId vehicle) {
  for (const auto& file : copies_of(path)) {
    try {
      auto copy = open_for_writing(file);
      if (copy.integer("SELECT count(*) FROM sqlite_schema WHERE name = 'personal'") == 0) {
        continue;
      }
      Transaction transaction(copy);
      erase_personal(copy, vehicle);
      transaction.commit();
      if (copy.integer("PRAGMA wal_checkpoint(TRUNCATE)") != 0) {
        throw SqlError(SqlError::Kind::other, "somebody reads it");
      }
    } catch (const SqlError& error) {
      throw SqlError(SqlError::Kind::data, "the copy " + file.string() + " keeps it: " + error.what());
    }
  }
}

}  // namespace

// Members stand with the thread that owns them.
struct Writer::State {
  State(WriterOptions o, WriterHooks h)
      : options(std::move(o)), hooks(std::move(h)), ballast(options.path, options.ballast_bytes) {}

  const WriterOptions options;
  const WriterHooks hooks;

  // Guarded by `mutex`.
  mutable std::mutex mutex;
  std::condition_variable_any wake;
  std::deque<Work> queue;
  std::size_t urgent = 0;            // in the queue
  Steady::time_point waiting_since;  // of the queue's first
  std::uint64_t tickets = 0;
  StoreHealth health;

  // Of the writer's thread, once it runs.
  Ballast ballast;
  std::int64_t session = 0;
  Seq last_durable = 0;
  bool log_holds_forgotten = false;  // something was erased that the write-ahead log may still have
  std::optional<Connection> connection;
  std::optional<Tables> tables;
  std::jthread thread;

  std::uint64_t push(Work work);
  std::deque<Work> take_all();  // with the mutex held

  void open();
  void work(const std::stop_token& stop);
  void work_while_failed(std::unique_lock<std::mutex>& lock, const std::stop_token& stop);
  void run(std::deque<Work> batch);
  void written(Entry entry, Seq seq, Millis boot_time, std::vector<JournalRow>& rows) const;
  void fail(const SqlError& error, std::deque<Work> batch);
  void reopen();
  void refuse_appends(std::deque<Work> batch, const Problem& why);
  void checkpoint();
  void tell(bool failing, bool ballast_spent, std::string text);
};

std::uint64_t Writer::State::push(Work item) {
  // Under the lock to its end: who stops the writer after it touches nothing that is still in use here.
  const std::lock_guard lock(mutex);
  std::uint64_t ticket = 0;
  if (auto* append = std::get_if<Append>(&item)) {
    ticket = append->ticket = ++tickets;
  }
  if (queue.empty()) {
    waiting_since = Steady::now();
  }
  urgent += is_urgent(item) ? 1U : 0U;
  queue.push_back(std::move(item));
  wake.notify_one();
  return ticket;
}

std::deque<Work> Writer::State::take_all() {
  urgent = 0;
  return std::exchange(queue, {});
}

void Writer::State::open() {
  connection = open_for_writing(options.path);
  migrate(*connection, options.path, schema_steps());
}

void Writer::State::work(const std::stop_token& stop) {
  std::unique_lock lock(mutex);
  while (true) {
    wake.wait(lock, stop, [this] { return !queue.empty(); });
    wake.wait_until(lock, stop, waiting_since + options.effects_wait, [this] { return urgent > 0; });
    if (queue.empty()) {  // stopping, or withdrawn meanwhile
      if (stop.stop_requested()) {
        return;
      }
      continue;
    }
    auto batch = take_all();
    lock.unlock();
    run(std::move(batch));
    lock.lock();
    if (health.failing) {
      work_while_failed(lock, stop);
      if (health.failing) {
        return;  // stopping, and the last try failed as well
      }
    }
  }
}

void Writer::State::work_while_failed(std::unique_lock<std::mutex>& lock, const std::stop_token& stop) {
  auto next_try = Steady::now();  // at once: the ballast may have made room
  while (health.failing) {
    wake.wait_until(lock, stop, next_try, [this] { return urgent > 0; });
    const bool last = stop.stop_requested();
    auto waiting = take_all();
    lock.unlock();
    refuse_appends(std::move(waiting), not_now);
    if (last || Steady::now() >= next_try) {
      reopen();
      next_try = Steady::now() + options.reopen_every;
    }
    lock.lock();
    if (last && health.failing) {
      log::error("database: {} derived rows and marks are not written; the next start works them out again",
                 queue.size());
      return;
    }
  }
}

void Writer::State::run(std::deque<Work> batch) {
  std::vector<JournalRow> rows;
  std::vector<std::pair<AppendDone, Result<Appended>>> answers;
  bool outbox_grew = false;
  bool tidy = false;
  bool forgot = false;
  try {
    Transaction transaction(*connection);
    for (auto& item : batch) {
      try {
        if (auto* append = std::get_if<Append>(&item)) {
          if (append->entry.forget != 0) {
            erase_in_copies(options.path, append->entry.forget);
          }
          const auto appended = tables->append(append->entry, append->boot_time);
          answers.emplace_back(append->done, appended);
          if (!appended.repeated) {
            forgot = forgot || append->entry.forget != 0;
            written(std::move(append->entry), appended.seq, append->boot_time, rows);
          }
        } else if (auto* effects = std::get_if<Effects>(&item)) {
          outbox_grew |= tables->write(*effects);
        } else if (auto* mark = std::get_if<OutboxMark>(&item)) {
          tables->mark(*mark);
        } else if (auto* keep = std::get_if<KeepChannels>(&item)) {
          tables->keep_channels(keep->channels);
        } else if (auto* clock = std::get_if<ClockIs>(&item)) {
          tables->clock_is(clock->state);
        } else {
          tables->forget_old_messages();
          tidy = true;
        }
      } catch (const SqlError& error) {
        // One item's own values are at fault: the others must not suffer, nor wait for ever behind it.
        if (error.kind() != SqlError::Kind::data) {
          throw;
        }
        log::error("database: a row was refused: {}", error.what());
        if (auto* append = std::get_if<Append>(&item)) {
          answers.emplace_back(append->done, Problem{error.what(), ""});
        }
      }
    }
    transaction.commit();
  } catch (const SqlError& error) {
    fail(error, std::move(batch));
    return;
  }
  if (!rows.empty()) {
    last_durable = rows.back().seq;
    if (hooks.on_rows) {
      hooks.on_rows(std::move(rows));
    }
  }
  for (auto& [done, answer] : answers) {
    done(std::move(answer));
  }
  if (outbox_grew && hooks.on_outbox) {
    hooks.on_outbox();
  }
  log_holds_forgotten = log_holds_forgotten || forgot;
  if (tidy || log_holds_forgotten) {
    checkpoint();
  }
}

// The entry's rows, as they are in the journal now.
void Writer::State::written(Entry entry, Seq seq, Millis boot_time, std::vector<JournalRow>& rows) const {
  const auto add = [&](Seq number, RowKind kind, RawMessage message, std::shared_ptr<const Event> parsed) {
    rows.push_back({.seq = number,
                    .kind = kind,
                    .message = std::move(message),
                    .boot_time = boot_time,
                    .session = session,
                    .parsed = std::move(parsed)});
  };
  if (entry.shown_before) {
    add(seq - 1, RowKind::shown, std::move(*entry.shown_before), nullptr);
  }
  add(seq, entry.kind, std::move(entry.message), std::move(entry.parsed));
}

void Writer::State::fail(const SqlError& error, std::deque<Work> batch) {
  log::error("database: {}", error.what());
  tables.reset();
  connection.reset();  // whatever it still holds in memory is not to be believed
  bool spent = health.ballast_spent;
  if (error.kind() == SqlError::Kind::disk_full && ballast.drop()) {
    log::error("database: the disk is full; the reserve of {} bytes has been freed", options.ballast_bytes);
    spent = true;
  }
  tell(true, spent, error.what());
  refuse_appends(std::move(batch), Problem{error.what(), ""});
}

// Answers the journal rows; what is derived goes back to the front of the queue.
void Writer::State::refuse_appends(std::deque<Work> batch, const Problem& why) {
  std::deque<Work> kept;
  for (auto& item : batch) {
    if (auto* append = std::get_if<Append>(&item)) {
      append->done(why);
    } else if (!std::holds_alternative<Tidy>(item)) {
      kept.push_back(std::move(item));
    }
  }
  const std::lock_guard lock(mutex);
  queue.insert(queue.begin(), std::make_move_iterator(kept.begin()), std::make_move_iterator(kept.end()));
}

// Checked: the disk has room, the last row that somebody was told of is there, and a write goes through.
void Writer::State::reopen() {
  try {
    if (std::filesystem::space(options.path.parent_path()).available < least_room) {
      return;
    }
    open();
    if (connection->integer("SELECT ifnull(max(seq), 0) FROM journal") < last_durable) {
      throw SqlError(SqlError::Kind::other, "rows that were on disk are gone");
    }
    // A page that stays as it is would not be written (SQLite 3.40, btreeOverwriteContent).
    connection->run(
        "BEGIN IMMEDIATE; UPDATE meta SET value = value + 1; UPDATE meta SET value = value - 1; COMMIT");
    tables.emplace(*connection, session);
  } catch (const SqlError& error) {
    tables.reset();
    connection.reset();
    tell(true, health.ballast_spent, error.what());
    return;
  } catch (const std::filesystem::filesystem_error& error) {
    tell(true, health.ballast_spent, error.what());
    return;
  }
  log::info("database: written again");
  tell(false, health.ballast_spent,
       health.ballast_spent ? "the disk was full: the last reserve is in use" : "");
}

void Writer::State::checkpoint() {
  try {
    // Not a failure where a reader is in the way: the next one takes it along.
    const bool busy = connection->integer("PRAGMA wal_checkpoint(TRUNCATE)") != 0;
    log_holds_forgotten = log_holds_forgotten && busy;
  } catch (const SqlError& error) {
    log::warning("database: checkpoint: {}", error.what());
  }
  if (health.ballast_spent && ballast.lay()) {
    tell(false, false, "");
  }
}

void Writer::State::tell(bool failing, bool ballast_spent, std::string text) {
  StoreHealth now{.failing = failing, .ballast_spent = ballast_spent, .text = std::move(text)};
  {
    const std::lock_guard lock(mutex);
    const bool same = health.failing == now.failing && health.ballast_spent == now.ballast_spent;
    health = now;
    if (same) {
      return;
    }
  }
  if (hooks.on_health) {
    hooks.on_health(std::move(now));
  }
}

Writer::Writer(std::unique_ptr<State> state) : state_(std::move(state)) {}

Result<std::unique_ptr<Writer>> Writer::open(WriterOptions options, const Session& session,
                                             WriterHooks hooks) {
  const auto path = options.path = std::filesystem::absolute(options.path);
  try {
    auto state = std::make_unique<State>(std::move(options), std::move(hooks));
    state->open();
    state->session = Tables::add_session(*state->connection, session);
    state->last_durable = state->connection->integer("SELECT ifnull(max(seq), 0) FROM journal");
    state->tables.emplace(*state->connection, state->session);
    if (!state->ballast.lay()) {
      state->tell(false, true, "the disk has no room for the reserve");
    }
    state->thread = std::jthread([s = state.get()](const std::stop_token& stop) { s->work(stop); });
    return std::unique_ptr<Writer>(new Writer(std::move(state)));
  } catch (const SqlError& error) {
    return Problem{error.what(), path.string()};
  } catch (const std::filesystem::filesystem_error& error) {
    return Problem{error.what(), path.string()};
  }
}

Writer::~Writer() {
  stop();
}

Result<Appended> Writer::append(Entry entry, Millis cap) {
  auto promise = std::make_shared<std::promise<Result<Appended>>>();
  auto answer = promise->get_future();
  const auto ticket = state_->push(
      Append{.entry = std::move(entry),
             .boot_time = state_->options.since_boot(),
             .done = [promise](Result<Appended> result) { promise->set_value(std::move(result)); }});
  if (answer.wait_for(cap) == std::future_status::ready) {
    return answer.get();
  }
  const std::lock_guard lock(state_->mutex);
  auto& queue = state_->queue;
  const auto mine = std::find_if(queue.begin(), queue.end(), [ticket](const Work& work) {
    const auto* append = std::get_if<Append>(&work);
    return append != nullptr && append->ticket == ticket;
  });
  if (mine == queue.end()) {
    return Problem{"the disk has not answered in time; the row may yet be kept", ""};
  }
  queue.erase(mine);
  --state_->urgent;
  return Problem{"the disk has not answered in time", ""};
}

void Writer::append_async(Entry entry, AppendDone done) {
  state_->push(
      Append{.entry = std::move(entry), .boot_time = state_->options.since_boot(), .done = std::move(done)});
}

void Writer::commit(Effects effects) {
  state_->push(std::move(effects));
}

void Writer::mark(OutboxMark mark) {
  state_->push(std::move(mark));
}

void Writer::clock_is(std::string state) {
  state_->push(ClockIs{std::move(state)});
}

void Writer::keep_channels(std::vector<std::string> channels) {
  state_->push(KeepChannels{std::move(channels)});
}

void Writer::tidy() {
  state_->push(Tidy{});
}

void Writer::stop() {
  state_->thread = {};  // stopped and joined
  if (state_->connection) {
    state_->checkpoint();
    state_->tables.reset();
    state_->connection.reset();
  }
}

std::int64_t Writer::session() const {
  return state_->session;
}

StoreHealth Writer::health() const {
  const std::lock_guard lock(state_->mutex);
  return state_->health;
}

}  // namespace dryclock::store
