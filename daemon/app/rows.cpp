#include <algorithm>
#include <charconv>

#include "app/parts.hpp"
#include "base/log.hpp"
#include "compute/outlook.hpp"

namespace dryclock::app {
namespace {

constexpr Millis journal_cap{20'000};  // the broker's thread waits this long for the disk, then asks again

bool is_release(const JournalRow& row) {
  return row.parsed && std::holds_alternative<Released>(row.parsed->detail);
}

}  // namespace

std::vector<std::string> topics_of(const std::vector<SensorMapping>& mappings) {
  std::vector<std::string> topics{mqtt::dropped_topic};
  for (const SensorMapping& mapping : mappings) {
    topics.push_back(mapping.topic);
  }
  std::ranges::sort(topics);
  topics.erase(std::unique(topics.begin(), topics.end()), topics.end());
  return topics;
}

void App::Parts::on_rows(std::vector<JournalRow> rows) {
  // What was shown is no sign that something was heard.
  if (std::ranges::any_of(rows, [](const JournalRow& row) { return row.kind != RowKind::shown; })) {
    last_row = std::chrono::steady_clock::now();
  }
  const bool release = std::ranges::any_of(rows, is_release);
  // What the start wrote before it replayed the journal has been taken with it.
  std::erase_if(rows, [this](const JournalRow& row) { return row.seq <= core.applied(); });
  if (std::ranges::any_of(rows, [](const JournalRow& row) { return row.kind == RowKind::redated; })) {
    date_anew();
  } else if (!replay_due) {
    for (JournalRow& row : rows) {
      core.apply(std::move(row));
    }
  }
  if (release && sealer) {
    sealer->seal_now("release");
  }
  listen();
  core.settle();
}

// Rows have other times than those that they were taken with.
void App::Parts::date_anew() {
  rechecks.forget();
  core.fall_behind();
  const auto replayed = replay_journal(core, *reader);
  replay_due = !replayed;
  if (replayed) {
    log::info("rows were dated anew: replayed {}", replayed->rows);
  } else {
    log::error("rows were dated anew and cannot be replayed yet: {}", to_string(replayed.error()));
  }
}

// Events set sensors up and retire them: the broker is told.
void App::Parts::listen() {
  auto wanted = topics_of(core.engine().mappings());
  if (wanted != topics && notifier) {
    topics = wanted;
    notifier->post([this, wanted = std::move(wanted)] { client->listen_to(wanted); });
  }
}

void App::Parts::append_own(RowKind kind, std::string payload) {
  store::Entry entry{kind, {}, {}};
  entry.message.payload = std::move(payload);
  entry.message.received_at = clock.now();
  writer->append_async(std::move(entry), [](const Result<store::Appended>&) {});
}

// On the MQTT library's thread: true once the message is on disk.
bool App::Parts::on_message(const RawMessage& message) {
  if (message.topic == mqtt::dropped_topic) {
    std::uint64_t total = 0;
    const auto& text = message.payload;
    if (std::from_chars(text.data(), text.data() + text.size(), total).ec == std::errc{}) {
      post([this, total] { watch.broker_dropped(total); });
    }
    return true;
  }
  const auto appended = writer->append({RowKind::message, message, {}}, journal_cap);
  if (!appended) {
    log::error("journal: {}", to_string(appended.error()));
  }
  return appended.has_value();
}

void App::Parts::look_ahead(OutlookTask task) {
  if (pool) {
    pool->submit([task = std::move(task)] { return compute::answer(task); },
                 [this](const Result<OutlookAnswer>& answer) {
                   if (answer) {  // else the next revision asks again
                     core.apply(*answer);
                   }
                 });
  }
}

}  // namespace dryclock::app
