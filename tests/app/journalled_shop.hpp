// A shop's core with the real journal: started, lived in and stopped as the daemon does it, at times that the
// test tells.
#pragma once

#include <filesystem>
#include <memory>
#include <mutex>
#include <string>
#include <vector>

#include "app/core.hpp"
#include "app/startup.hpp"

namespace dryclock::app {

inline constexpr Millis cap{10'000};  // the longest that a row may take to the disk

class JournalledShop {
 public:
  // Settings are told at `now` where they are not the journal's newest; then the journal is replayed. It
  // speaks the setup's language; a channel "phone" is told in English.
  JournalledShop(const std::filesystem::path& database, const Setup& setup, Time now);
  ~JournalledShop();
  JournalledShop(const JournalledShop&) = delete;
  JournalledShop& operator=(const JournalledShop&) = delete;

  void hears(Time t, const std::string& topic, const std::string& payload);
  // A row that dates this start's rows anew, and what the daemon does then.
  void dates_anew(Time booted);
  // A message, and right behind it a row by which times change (of a boot that has none): both are on disk
  // before the core takes the message; then the journal is replayed, as the daemon does it.
  void hears_as_times_change(Time t, const std::string& topic, const std::string& payload);
  // The event's row; fails the test where it is refused.
  Seq does(Time t, EventDetail detail);
  [[nodiscard]] const engine::Engine& engine() const { return core_->engine(); }
  // The daemon tells of itself.
  void raises(AlertRule rule, const std::string& subject, Fact what);
  // Open in the table of alerts, as the board has them.
  [[nodiscard]] std::vector<std::string> open_in_table();
  [[nodiscard]] std::vector<std::string> open_on_board() const;
  // Of these alerts, those that the outbox's newest message does not state as open; and any other that it
  // does.
  [[nodiscard]] std::vector<std::string> told_otherwise() const;
  [[nodiscard]] const store::Reader& reader() const { return *reader_; }
  // What the daemon does once it has taken some rows: what is due is written.
  void asks();
  // The forecasts of the outlooks that were asked for so far, in order.
  [[nodiscard]] const std::vector<std::vector<models::WeightedCourse>>& forecasts() const {
    return forecasts_;
  }
  // Waits until all is written that the core has committed.
  void settles();
  // How often the alert was raised in what was committed.
  [[nodiscard]] int times_raised(const std::string& alert) const;

 private:
  store::Appended append(store::Entry entry);
  void take_new();

  Time wall_;
  std::vector<AlertRow> alerts_;  // committed
  std::vector<std::vector<models::WeightedCourse>> forecasts_;
  std::mutex mutex_;
  std::vector<JournalRow> fresh_;  // from the writer's thread
  std::vector<std::function<void()>> answers_;
  std::unique_ptr<store::Writer> writer_;
  std::optional<store::Reader> reader_;
  std::unique_ptr<Core> core_;
};

}  // namespace dryclock::app
