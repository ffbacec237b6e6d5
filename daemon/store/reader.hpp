// Questions to the database, over a read-only connection of its own. Not thread-safe: each thread opens one.
// Every answer is a consistent snapshot; a Problem means that the database cannot be read now.
#pragma once

#include <filesystem>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "base/result.hpp"
#include "domain/configured.hpp"
#include "domain/effects.hpp"
#include "domain/outbox.hpp"
#include "domain/personal.hpp"
#include "domain/types.hpp"
#include "domain/view.hpp"

namespace dryclock::store {

// An hour of air that ends so long after the last row of a wrong clock may still be of that clock.
inline constexpr Millis air_hour_beyond = std::chrono::minutes{61};

struct Extent {  // of the journal
  Seq first = 0, last = 0;
  Time first_at, last_at;  // received; meaningless while it is empty (last == 0)
};

// One start of the daemon.
struct SessionRow {
  std::int64_t id = 0;
  std::string boot;  // the kernel's id of the machine's boot; where that is hidden, a name of its own
  std::string clock_state;
};

// When a row came.
struct Stamp {
  RowKind kind = RowKind::message;
  Time received_at;
  Millis boot_time{};
  std::int64_t session = 0;
};

class Reader {
 public:
  // Problem: no database there, or of another schema than this program's.
  [[nodiscard]] static Result<Reader> open(const std::filesystem::path& path);
  Reader(Reader&&) noexcept;
  Reader& operator=(Reader&&) noexcept;
  ~Reader();

  // Journal.
  [[nodiscard]] Result<std::vector<JournalRow>> rows(Seq from, std::size_t limit) const;  // seq >= from
  // The rows from `first` to `last`, in order, until `visit` says false; a few thousand are in memory at a
  // time.
  [[nodiscard]] Result<void> walk(Seq first, Seq last, const std::function<bool(JournalRow)>& visit) const;
  // Not for messages: all of them are in memory.
  [[nodiscard]] Result<std::vector<JournalRow>> rows_of(RowKind kind, Seq from = 1) const;
  // The same up to `last`: rows without a topic, and those with that one.
  [[nodiscard]] Result<std::vector<JournalRow>> rows_of(RowKind kind, const std::string& topic,
                                                        Seq last) const;
  [[nodiscard]] Result<std::optional<Stamp>> stamp(Seq seq) const;
  [[nodiscard]] Result<std::vector<SessionRow>> sessions() const;  // in order
  [[nodiscard]] Result<Extent> extent() const;
  [[nodiscard]] Result<Seq> applied() const;  // the last row whose effects are committed

  // Beside the journal: empty where nothing was given, or it has been erased.
  [[nodiscard]] Result<std::vector<PersonalText>> personal(VehicleId vehicle) const;

  // Events that were kept and not applied, in order.
  [[nodiscard]] Result<std::vector<RefusedRow>> refused() const;

  // Derived.
  [[nodiscard]] Result<std::vector<ScreenedReading>> readings(const std::string& sensor, Quantity quantity,
                                                              Time from, Time to) const;  // (from, to]
  // That end after `from`, bay by bay, in order.
  [[nodiscard]] Result<std::vector<AirHour>> air_hours(Time from) const;
  [[nodiscard]] Result<std::vector<AlertSummary>> alerts_open_at(Time at) const;  // raised <= at < cleared
  // (from, to], newest first
  [[nodiscard]] Result<std::vector<AlertSummary>> alerts_raised(Time from, Time to) const;

  // Outbox, in order of entry.
  [[nodiscard]] Result<std::vector<OutboxRow>> pending(const std::string& channel, std::size_t limit) const;

 private:
  struct State;
  explicit Reader(std::unique_ptr<State> state);
  std::unique_ptr<State> state_;
};

}  // namespace dryclock::store
