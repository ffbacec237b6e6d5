// A shop's core with its journal in memory: rows are appended and taken at once, as the writer and the core
// thread do it, and the time is what the test says.
#pragma once

#include <functional>
#include <memory>
#include <string>
#include <vector>

#include "app/core.hpp"
#include "domain/shown.hpp"

namespace dryclock::support {

class CoreShop {
 public:
  // `look_ahead` answers outlooks at once; empty: there are none.
  explicit CoreShop(Setup setup, std::function<OutlookAnswer(OutlookTask)> look_ahead = {});

  void hears(Time t, const std::string& topic, const std::string& payload);
  void ticks(Time t);
  // The event's row; 0 where it was refused.
  Seq does(Time t, EventDetail detail, Time happened = {});
  // As if the daemon had ended after `committed` and started again: the rows after it are taken, not
  // replayed.
  void restarts(Seq committed);

  [[nodiscard]] app::Core& core() { return *core_; }
  [[nodiscard]] const std::vector<JournalRow>& rows() const { return rows_; }
  // Rows of what was shown, read, from the one with this number on.
  [[nodiscard]] std::vector<Shown> shown(Seq from = 1) const;
  // What was committed, in order.
  [[nodiscard]] const std::vector<Effects>& effects() const { return effects_; }

 private:
  [[nodiscard]] std::unique_ptr<app::Core> make_core();
  store::Appended append(store::Entry entry);
  void take_new();

  Setup setup_;
  std::function<OutlookAnswer(OutlookTask)> look_ahead_;
  Time wall_{};
  std::vector<JournalRow> rows_;
  std::vector<std::string> keys_;  // of rows_
  std::vector<Effects> effects_;
  std::vector<std::function<void()>> answers_;
  Seq taken_ = 0;
  std::unique_ptr<app::Core> core_;
};

}  // namespace dryclock::support
