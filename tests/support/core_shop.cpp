#include "support/core_shop.hpp"

#include <algorithm>

#include "support/said.hpp"
#include "wire/event_json.hpp"
#include "wire/shown_json.hpp"

namespace dryclock::support {

CoreShop::CoreShop(Setup setup, std::function<OutlookAnswer(OutlookTask)> look_ahead)
    : setup_(std::move(setup)), look_ahead_(std::move(look_ahead)), core_(make_core()) {}

std::unique_ptr<app::Core> CoreShop::make_core() {
  auto core = std::make_unique<app::Core>(
      ClockSource::system, support::words(),
      app::Publisher{{}, app::QuietTimes{{}, LocalZone::find("UTC").value()}},
      app::CorePorts{.commit = [this](Effects effects) { effects_.push_back(std::move(effects)); },
                     .append =
                         [this](store::Entry entry, store::AppendDone done) {
                           const auto appended = append(std::move(entry));
                           answers_.emplace_back([done = std::move(done), appended] { done(appended); });
                         },
                     .look_ahead =
                         [this](OutlookTask task) {
                           if (look_ahead_) {
                             core_->apply(look_ahead_(std::move(task)));
                           }
                         },
                     .keeps_personal = [](VehicleId) { return false; },
                     .board_changed = [] {},
                     .wall_clock = [this] { return wall_; },
                     .heard = [](const JournalRow&, const std::vector<Reading>&) {}});
  core->assume(Configured{"test", "", true, {}, setup_});
  return core;
}

store::Appended CoreShop::append(store::Entry entry) {
  if (const auto known = std::ranges::find(keys_, entry.key); !entry.key.empty() && known != keys_.end()) {
    return {known - keys_.begin() + 1, true};
  }
  const auto add = [&](RowKind kind, RawMessage message, std::string key) {
    rows_.push_back({.seq = static_cast<Seq>(rows_.size()) + 1, .kind = kind, .message = std::move(message)});
    keys_.push_back(std::move(key));
  };
  if (entry.shown_before) {
    add(RowKind::shown, std::move(*entry.shown_before), {});
  }
  add(entry.kind, std::move(entry.message), std::move(entry.key));
  return {rows_.back().seq, false};
}

// Taking a row may append others, and so may an outlook.
void CoreShop::take_new() {
  const auto is_new = [this] { return taken_ < static_cast<Seq>(rows_.size()) || !answers_.empty(); };
  do {
    while (is_new()) {
      while (taken_ < static_cast<Seq>(rows_.size())) {
        core_->apply(rows_[static_cast<std::size_t>(taken_++)]);
      }
      for (const auto& answer : std::exchange(answers_, {})) {
        answer();
      }
    }
    core_->settle();
  } while (is_new());
}

void CoreShop::hears(Time t, const std::string& topic, const std::string& payload) {
  wall_ = t;
  append({RowKind::message, {topic, payload, t, 1}, {}});
  take_new();
}

void CoreShop::ticks(Time t) {
  wall_ = t;
  append({RowKind::tick, {{}, {}, t, 0}, {}});
  take_new();
}

Seq CoreShop::does(Time t, EventDetail detail, Time happened) {
  wall_ = t;
  Event event;
  event.at = happened == Time{} ? t : happened;
  event.entered = t;
  event.detail = std::move(detail);
  Seq seq = 0;
  core_->submit(wire::to_json(event), t,
                [&](const http::SubmitAnswer& answer) { seq = answer ? answer->seq : 0; });
  take_new();
  return seq;
}

void CoreShop::restarts(Seq committed) {
  core_ = make_core();
  const auto rows = rows_;  // taking them may append
  for (const auto& row : rows) {
    if (row.seq <= committed) {
      core_->replay(row);
    } else {
      core_->apply(row);
    }
  }
  taken_ = static_cast<Seq>(rows.size());
  take_new();
}

std::vector<Shown> CoreShop::shown(Seq from) const {
  std::vector<Shown> out;
  for (const auto& row : rows_) {
    if (row.kind == RowKind::shown && row.seq >= from) {
      out.push_back(wire::read_shown(shown_vehicle(row.message.topic), row.message.payload).value());
    }
  }
  return out;
}

}  // namespace dryclock::support
