#include "app/journalled_shop.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <map>
#include <thread>

#include "engine/alert_rules.hpp"
#include "support/said.hpp"
#include "wire/event_json.hpp"
#include "wire/setup_json.hpp"

namespace dryclock::app {
namespace {

std::vector<std::string> ids(const std::vector<AlertSummary>& alerts) {
  std::vector<std::string> out;
  for (const auto& alert : alerts) {
    if (engine::follows_from_rows(alert.rule)) {
      out.push_back(alert.id + " " + to_rfc3339(alert.raised));
    }
  }
  std::ranges::sort(out);
  return out;
}

}  // namespace

JournalledShop::JournalledShop(const std::filesystem::path& database, const Setup& setup, Time now)
    : wall_(now) {
  store::WriterHooks hooks;
  hooks.on_rows = [this](std::vector<JournalRow> rows) {
    const std::lock_guard lock(mutex_);
    std::ranges::move(rows, std::back_inserter(fresh_));
  };
  auto opened = store::Writer::open({.path = database, .ballast_bytes = 0}, {}, std::move(hooks));
  REQUIRE(opened.has_value());
  writer_ = std::move(*opened);
  reader_ = store::Reader::open(database).value();
  REQUIRE(tell_settings(setup, now, *writer_, *reader_).has_value());
  std::vector<Publisher::Channel> channels;
  channels.push_back({"phone", AlertLevel::news, support::words()});
  core_ = std::make_unique<Core>(
      ClockSource::system, support::words(setup.site.manner),
      Publisher{std::move(channels), QuietTimes{{}, LocalZone::find("UTC").value()}},
      CorePorts{.commit =
                    [this](Effects effects) {
                      std::ranges::copy(effects.alerts, std::back_inserter(alerts_));
                      writer_->commit(std::move(effects));
                    },
                .append =
                    [this](store::Entry entry, store::AppendDone done) {
                      const auto appended = append(std::move(entry));
                      answers_.emplace_back([done = std::move(done), appended] { done(appended); });
                    },
                .look_ahead = [this](OutlookTask task) { forecasts_.push_back(std::move(task.forecast)); },
                .keeps_personal = [](VehicleId) { return false; },
                .board_changed = [] {},
                .wall_clock = [this] { return wall_; },
                .heard = [](const JournalRow&, const std::vector<Reading>&) {}});
  REQUIRE(replay_journal(*core_, *reader_).has_value());
  take_new();
}

JournalledShop::~JournalledShop() {
  writer_->stop();
}

store::Appended JournalledShop::append(store::Entry entry) {
  return writer_->append(std::move(entry), cap).value();
}

// Taking a row may append others.
void JournalledShop::take_new() {
  for (bool more = true; more;) {
    std::vector<JournalRow> rows;
    {
      const std::lock_guard lock(mutex_);
      rows = std::exchange(fresh_, {});
    }
    for (auto& row : rows) {
      if (row.seq > core_->applied()) {
        core_->apply(std::move(row));
      }
    }
    const auto answers = std::exchange(answers_, {});
    for (const auto& answer : answers) {
      answer();
    }
    more = !rows.empty() || !answers.empty();
  }
}

void JournalledShop::hears(Time t, const std::string& topic, const std::string& payload) {
  wall_ = t;
  append({RowKind::message, {topic, payload, t, 1}, {}});
  take_new();
}

void JournalledShop::dates_anew(Time booted) {
  const Redated told{
      "session " + std::to_string(writer_->session()), booted, 1, core_->applied(), {}, ClockFault::stepped};
  append({RowKind::redated, {{}, wire::to_json(told), wall_, 0}, {}});
  {
    const std::lock_guard lock(mutex_);
    fresh_.clear();
  }
  REQUIRE(replay_journal(*core_, *reader_).has_value());
  take_new();
}

void JournalledShop::raises(AlertRule rule, const std::string& subject, Fact what) {
  core_->raise(rule, subject, std::move(what));
}

void JournalledShop::hears_as_times_change(Time t, const std::string& topic, const std::string& payload) {
  wall_ = t;
  append({RowKind::message, {topic, payload, t, 1}, {}});
  const auto message = [&] {
    const std::lock_guard lock(mutex_);
    return std::exchange(fresh_, {});
  }();
  append({RowKind::redated,
          {{}, wire::to_json(Redated{"another", t, 0, 0, {}, ClockFault::stepped}), t, 0},
          {}});
  for (const auto& row : message) {
    core_->apply(row);
  }
  REQUIRE(replay_journal(*core_, *reader_).has_value());
  take_new();
}

Seq JournalledShop::does(Time t, EventDetail detail) {
  wall_ = t;
  Event event;
  event.at = t;
  event.entered = t;
  event.detail = std::move(detail);
  Seq seq = 0;
  core_->submit(wire::to_json(event), t, [&](const http::SubmitAnswer& answer) {
    REQUIRE_MESSAGE(answer.has_value(), (answer ? "" : to_string(answer.error().problem)));
    seq = answer->seq;
  });
  take_new();
  return seq;
}

void JournalledShop::asks() {
  core_->settle();
  take_new();
}

// What the core has committed is in the tables once the writer has got to it.
void JournalledShop::settles() {
  const auto written = [&] { return reader_->applied().value() >= core_->applied(); };
  for (int tries = 0; tries < 1'000 && !written(); ++tries) {
    std::this_thread::sleep_for(Millis{5});
  }
  REQUIRE(written());
}

int JournalledShop::times_raised(const std::string& alert) const {
  return static_cast<int>(std::ranges::count_if(
      alerts_, [&](const AlertRow& row) { return row.step == AlertStep::raised && row.alert.id == alert; }));
}

std::vector<std::string> JournalledShop::open_in_table() {
  settles();
  // What agree() told belongs to no row.
  for (int tries = 0; tries < 400 && ids(reader_->alerts_open_at(Time::max()).value()) != open_on_board();
       ++tries) {
    std::this_thread::sleep_for(Millis{5});
  }
  return ids(reader_->alerts_open_at(Time::max()).value());
}

std::vector<std::string> JournalledShop::open_on_board() const {
  return ids(core_->engine().board().alerts);
}

std::vector<std::string> JournalledShop::told_otherwise() const {
  std::map<std::string, bool> told;  // by topic: nothing is delivered here, so that all of it waits
  for (const auto& row : reader_->pending("mqtt", 10'000).value()) {
    if (row.message.topic.starts_with("alert/")) {
      told[row.message.topic.substr(6)] = !row.message.payload.empty();
    }
  }
  std::vector<std::string> wrong;
  std::map<std::string, bool> open;
  for (const auto& alert : core_->engine().board().alerts) {
    open[alert.id] = true;
  }
  for (const auto& [id, is_open] : open) {
    if (!told[id]) {
      wrong.push_back(id + " is open and not told");
    }
  }
  for (const auto& [id, is_told] : told) {
    if (is_told && !open.contains(id)) {
      wrong.push_back(id + " is told and not open");
    }
  }
  return wrong;
}

}  // namespace dryclock::app
