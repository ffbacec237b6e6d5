#include "app/parts.hpp"

#include <csignal>
#include <filesystem>
#include <utility>

#include "app/channels.hpp"
#include "app/evidence.hpp"
#include "app/gone.hpp"
#include "app/systemd.hpp"
#include "app/voice.hpp"
#include "base/log.hpp"
#include "base/version.hpp"
#include "notify/time_stamp.hpp"
#include "page/assets.hpp"
#include "record/canvas.hpp"
#include "store/rebuild.hpp"
#include "wire/event_json.hpp"

namespace dryclock::app {
namespace {

constexpr Millis publish_cap{10'000};

// For the sealing thread, which reads the journal itself. Absent: not an event of ours.
std::optional<EventDetail> read_event(const JournalRow& row) {
  auto event = wire::parse_event(row.message.payload, row.message.received_at);
  return event.has_value() ? std::optional{std::move(event).value().detail} : std::nullopt;
}

}  // namespace

App::Parts::Parts(Config given, MachineClocks ours)
    : config(std::move(given)),
      clocks(std::move(ours)),
      core(config.clock, words_for(config), Publisher{ways_out(config), QuietTimes{config.quiet, zone}},
           {.commit = [this](Effects effects) { writer->commit(std::move(effects)); },
            .append =
                [this](store::Entry entry, store::AppendDone done) {
                  writer->append_async(std::move(entry),
                                       [this, done = std::move(done)](const auto& appended) {
                                         post([done, appended] { done(appended); });
                                       });
                },
            .look_ahead = [this](OutlookTask task) { look_ahead(std::move(task)); },
            .keeps_personal =
                [this](VehicleId vehicle) {
                  const auto kept = reader->personal(vehicle);
                  return kept.has_value() && !kept->empty();
                },
            .board_changed =
                [this] {
                  if (server) {
                    server->board_changed();
                  }
                },
            .wall_clock = [this] { return clock.now(); },
            .heard =
                [this](const JournalRow& row, const std::vector<Reading>& readings) {
                  if (row.session != writer->session()) {
                    return;  // left over by an earlier start, perhaps in another boot
                  }
                  for (const Reading& reading : readings) {
                    device_times.hear(reading, row.boot_time);
                  }
                }}),
      finder(config.mqtt.base),
      watch(core, config.store.path),
      paired(config.http.token_file) {}

Result<void> App::Parts::start() {
  if (const auto opened = start_store(); !opened) {
    return opened.error();
  }
  if (const auto replayed = replay(); !replayed) {
    return replayed.error();
  }
  pool.emplace([this](std::function<void()> work) { post(std::move(work)); });
  start_client();
  if (const auto ready = start_notify(); !ready) {
    return ready.error();
  }
  if (const auto listening = start_server(); !listening) {
    return listening.error();
  }
  notifier->start();
  start_seal();
  if (const auto connecting = client->start(); !connecting) {
    return connecting.error();
  }

  start_timers();
  core.settle();

  signals.add(SIGINT);
  signals.add(SIGTERM);
  signals.async_wait([this](const auto& error, int) {
    if (!error) {
      stop();
      io.stop();
    }
  });
  log::info("dryclockd {} serves http://{}:{}", version, config.http.address, server->port());
  tell_ready(fmt::format("http://{}:{}", config.http.address, server->port()));
  return {};
}

Result<void> App::Parts::start_store() {
  const auto half_built = store::is_being_rebuilt(config.store.path);
  if (!half_built || *half_built) {
    return half_built
               ? Problem{"a rebuild was cut short: run dryclockd --rebuild again", config.store.path.string()}
               : half_built.error();
  }
  auto opened = store::Writer::open(
      {.path = config.store.path,
       .ballast_bytes = std::int64_t{config.store.ballast_mib} * 1024 * 1024,
       .since_boot = clocks.since_boot},
      session,
      {.on_rows =
           [this](std::vector<JournalRow> rows) {
             post([this, rows = std::move(rows)]() mutable { on_rows(std::move(rows)); });
           },
       .on_outbox =
           [this] {
             post([this] {
               if (notifier) {
                 notifier->wake();
               }
             });
           },
       .on_health =
           [this](const store::StoreHealth& seen) { post([this, seen] { watch.store_health(seen); }); }});
  if (!opened) {
    return opened.error();
  }
  writer = std::move(*opened);
  auto read = store::Reader::open(config.store.path);
  if (!read) {
    return read.error();
  }
  reader = std::move(*read);
  if (config.clock == ClockSource::system) {
    const auto judged = tell_time(clocks, *writer, *reader);
    if (!judged) {
      return judged.error();
    }
    clock.set(judged->booted);
    time_known = judged->known;
    clock_trusted = judged->trusted;
  }
  return tell_settings(config.setup, clock.now(), *writer, *reader);
}

Result<void> App::Parts::replay() {
  const auto replayed = replay_journal(core, *reader);
  if (!replayed) {
    return replayed.error();
  }
  log::info("replayed {} rows, {} of them not committed before; the journal ends at row {}", replayed->rows,
            replayed->recovered, replayed->last);
  for (const auto& line : gone_and_in_use(core.engine().board())) {
    log::warning("settings: {}", line);
  }
  append_own(RowKind::started, fmt::format(R"({{"version":"{}","boot_id":"{}","clock":"{}"}})", version,
                                           session.boot_id, session.clock_state));
  return {};
}

void App::Parts::start_client() {
  topics = topics_of(core.engine().mappings());
  client = std::make_unique<mqtt::Client>(
      config.mqtt, topics,
      mqtt::Hooks{[this] { return clock.now(); },
                  [this](const RawMessage& message) { return on_message(message); },
                  [this](bool connected) {
                    log::info("broker {}", connected ? "connected" : "lost");
                    if (connected) {
                      notifier->post([this] {
                        if (const auto announced = client->announce(publish_cap); !announced) {
                          log::warning("status: {}", to_string(announced.error()));
                        }
                      });
                      notifier->retry_now("mqtt");
                    }
                  },
                  [this](const RawMessage& message) { finder.heard(message); }});
}

Result<void> App::Parts::start_notify() {
  auto opened = store::Reader::open(config.store.path);
  if (!opened) {
    return opened.error();
  }
  outbox = std::move(*opened);
  deliver = make_channels(config, [this] { return clock.now(); });
  deliver["mqtt"] = [this](const Outgoing& message) { return client->publish(message, publish_cap); };
  std::vector<std::string> names;
  for (const auto& [name, send] : deliver) {
    names.push_back(name);
  }
  writer->keep_channels(names);
  notifier = std::make_unique<notify::Notifier>(
      deliver,
      notify::Outbox{
          [this](const std::string& channel, std::size_t limit) { return outbox->pending(channel, limit); },
          [this](OutboxMark mark) { writer->mark(std::move(mark)); },
          [this](const Outgoing& message, const OutboxMark& mark) {
            post([this, message, mark] { core.settled(message, mark); });
          }},
      [this] { return clock.now(); });
  return {};
}

Result<void> App::Parts::start_server() {
  auto access = paired.read();
  if (!access) {
    return access.error();
  }
  serving.access.tokens = std::move(access->tokens);
  server = std::make_unique<http::Server>(io, serving, services(), page::assets());
  if (const auto listening = server->start(); !listening) {
    return listening.error();
  }
  return {};
}

// Without a seal the shop still works: what is wrong is an alert, it is tried again, and nothing of the
// journal is lost by it.
void App::Parts::start_seal() {
  const auto folder = seal_folder(config);
  const auto& keys = config.seal.keys_folder;
  seal::SealerOptions options{.chain = {.database = config.store.path,
                                        .folder = folder,
                                        .keys = keys.empty() ? folder.parent_path() / "keys" : keys,
                                        .read_event = read_event},
                              .now = [this] { return clock.now(); }};
  if (const auto& url = config.seal.time_stamp_url; !url.empty()) {
    options.time_stamp = [url](const std::string& query) { return notify::ask_time_stamp(url, query); };
  }
  const auto tell = [this](void (Watch::*report)(const std::optional<Problem>&),
                           std::optional<Problem> wrong) {
    post([this, report, wrong = std::move(wrong)] { (watch.*report)(wrong); });
  };
  sealer = std::make_unique<seal::Sealer>(
      std::move(options),
      seal::SealerHooks{
          .on_problem = [tell](const Problem& wrong) { tell(&Watch::seal_health, wrong); },
          .on_well = [tell] { tell(&Watch::seal_health, std::nullopt); },
          .on_stamp = [tell](const std::optional<Problem>& wrong) { tell(&Watch::stamp_health, wrong); }});
  watch.seal_health(std::nullopt);  // one that the last run left open is raised again where it still holds
  watch.stamp_health(std::nullopt);
  sealer->start();
}

void App::Parts::stop() {
  if (std::exchange(stopped, true)) {
    return;
  }
  tell_stopping();
  timers.clear();
  if (server) {
    server->stop();
  }
  if (notifier) {
    notifier->stop();
  }
  if (client) {
    client->stop(Millis{3'000});
  }
  if (pool) {
    pool->stop();
  }
  if (sealer) {
    sealer->stop();
  }
  if (writer) {
    writer->stop();
  }
  record::release_fonts();
}

}  // namespace dryclock::app
