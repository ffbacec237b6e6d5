#include "app/app.hpp"

#include <algorithm>
#include <boost/asio/io_context.hpp>
#include <boost/asio/post.hpp>
#include <boost/asio/signal_set.hpp>
#include <charconv>
#include <chrono>
#include <cmath>
#include <csignal>
#include <thread>

#include "app/channels.hpp"
#include "app/clock_watch.hpp"
#include "app/core.hpp"
#include "app/every.hpp"
#include "app/evidence.hpp"
#include "app/paired.hpp"
#include "app/recheck_book.hpp"
#include "app/sensor_finder.hpp"
#include "app/startup.hpp"
#include "app/systemd.hpp"
#include "app/watch.hpp"
#include "base/clock.hpp"
#include "base/local_time.hpp"
#include "base/log.hpp"
#include "base/version.hpp"
#include "compute/outlook.hpp"
#include "compute/pool.hpp"
#include "http/server.hpp"
#include "ingest/event_json.hpp"
#include "mqtt/client.hpp"
#include "notify/notifier.hpp"
#include "notify/time_stamp.hpp"
#include "page/assets.hpp"
#include "seal/sealer.hpp"
#include "store/reader.hpp"
#include "store/rebuild.hpp"
#include "store/writer.hpp"

namespace dryclock::app {
namespace {

namespace asio = boost::asio;

constexpr Millis journal_cap{20'000};  // the broker's thread waits this long for the disk, then asks again
constexpr Millis publish_cap{10'000};
constexpr Millis quiet{30'000};  // without a row for this long, a tick row says that time passed

// The parts as the server wants to show them, and the mapping's topics, once each.
std::vector<std::string> topics_of(const std::vector<SensorMapping>& mappings) {
  std::vector<std::string> topics{mqtt::dropped_topic};
  for (const SensorMapping& mapping : mappings) {
    topics.push_back(mapping.topic);
  }
  std::ranges::sort(topics);
  topics.erase(std::unique(topics.begin(), topics.end()), topics.end());
  return topics;
}

std::optional<EventDetail> read_event(const JournalRow& row) {
  auto event = ingest::parse_event(row.message.payload, row.message.received_at);
  return event.has_value() ? std::optional{std::move(event).value().detail} : std::nullopt;
}

bool is_release(const JournalRow& row) {
  const auto detail = row.kind == RowKind::event ? read_event(row) : std::nullopt;
  return detail && std::holds_alternative<Released>(*detail);
}

}  // namespace

// Members in the order in which they start; the destructor stops what still runs in the reverse order.
struct App::Parts {
  explicit Parts(Config given);
  ~Parts() { stop(); }

  [[nodiscard]] Result<void> start();
  void stop();

  void on_rows(std::vector<JournalRow> rows);
  void look_at_clock();
  [[nodiscard]] bool on_message(const RawMessage& message);
  void listen();
  void append_own(RowKind kind, std::string payload);
  void look_ahead(OutlookTask task);
  [[nodiscard]] http::Services services();
  void look_for_drift();
  [[nodiscard]] Result<void> search_sensors(int seconds);
  [[nodiscard]] std::string event_text(const EventDetail& detail) const;
  [[nodiscard]] http::Health health() const;
  [[nodiscard]] http::Channels channels() const;
  void test_channel(const std::string& name, std::function<void(Result<void>)> answer);
  [[nodiscard]] Result<void> start_notify();
  void start_seal();

  // Hands work to the core thread; any thread.
  void post(std::function<void()> work) { asio::post(io, std::move(work)); }

  Config config;
  LocalZone zone = LocalZone::find(config.site.time_zone).value();  // the configuration was checked
  SystemClock clock;
  Time started = clock.now();
  asio::io_context io{1};
  std::unique_ptr<store::Writer> writer;
  std::optional<store::Reader> reader;  // the core thread's
  std::optional<store::Reader> outbox;  // the notify thread's
  Core core;
  SensorFinder finder;
  Watch watch;
  Paired paired;
  ClockWatch clock_watch;
  RecheckBook rechecks;
  std::optional<compute::Pool> pool;
  std::unique_ptr<http::Server> server;
  std::unique_ptr<mqtt::Client> client;
  std::map<std::string, notify::Deliver> deliver;  // by the channel's name; called on the notify thread alone
  std::unique_ptr<notify::Notifier> notifier;
  std::unique_ptr<seal::Sealer> sealer;
  asio::signal_set signals{io};
  std::vector<std::unique_ptr<Every>> timers;
  std::chrono::steady_clock::time_point last_row{};
  std::vector<std::string> topics;  // subscribed to
  bool stopped = false;
};

App::Parts::Parts(Config given)
    : config(std::move(given)),
      core(config.setup, config.clock,
           Publisher{config.notify, QuietTimes{config.quiet, zone},
                     config.site.temperature == TemperatureScale::fahrenheit},
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
                }}),
      finder(config.mqtt.base),
      watch(core, config.store.path),
      paired(config.http.token_file) {}

void App::Parts::on_rows(std::vector<JournalRow> rows) {
  last_row = std::chrono::steady_clock::now();
  const bool release = std::ranges::any_of(rows, is_release);
  for (JournalRow& row : rows) {
    core.take(std::move(row));
  }
  if (release && sealer) {
    sealer->seal_now("release");
  }
  listen();
  core.settle();
}

// Events set sensors up and retire them: the broker is told.
void App::Parts::listen() {
  auto wanted = topics_of(core.engine().mappings());
  if (wanted != topics && notifier) {
    topics = wanted;
    notifier->post([this, wanted = std::move(wanted)]() mutable { client->listen_to(std::move(wanted)); });
  }
}

void App::Parts::append_own(RowKind kind, std::string payload) {
  store::Entry entry{kind, {}, {}};
  entry.message.payload = std::move(payload);
  entry.message.received_at = clock.now();
  writer->append_async(std::move(entry), [](const Result<store::Appended>&) {});
}

// The wall clock against steady time, and whether anything came lately.
void App::Parts::look_at_clock() {
  const auto steady = std::chrono::steady_clock::now();
  if (const auto moved = clock_watch.look(clock.now(), steady)) {
    log::warning("the clock moved by {} ms", moved->count());
    append_own(RowKind::clock_step, fmt::format("{} by {:.1f} s", moved->count() > 0 ? "forward" : "back",
                                                std::abs(static_cast<double>(moved->count())) / 1000.0));
  }
  if (finder.ends(clock.now())) {
    notifier->post([this] { (void)client->search(false); });
  }
  if (config.clock == ClockSource::system && steady - last_row > quiet) {
    append_own(RowKind::tick, {});
  }
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
                 [this](const OutlookAnswer& answer) { core.take(answer); });
  }
}

http::Health App::Parts::health() const {
  const auto store = writer->health();
  const bool broker = client && client->connected();
  const auto sealed = sealer ? sealer->last_checkpoint() : std::nullopt;
  return {version,
          started,
          {{"database", !store.failing, store.text.empty() ? "keeps what it is given" : store.text},
           {"broker", broker,
            fmt::format("{} {}:{}", broker ? "connected to" : "not connected to", config.mqtt.host,
                        config.mqtt.port)},
           {"seal", !watch.seal_wrong(),
            watch.seal_wrong() ? to_string(*watch.seal_wrong())
            : sealed           ? fmt::format("checkpoint {} up to row {}", sealed->number, sealed->seq)
                               : std::string{"no checkpoint yet"}}},
          watch.space()};
}

http::Services App::Parts::services() {
  return {.now = [this] { return core.now(clock.now()); },
          .site =
              [this] {
                return http::Site{config.site.name, zone.name(), std::string{name_of(config.site.dialect)},
                                  std::string{name_of(config.site.temperature)}};
              },
          .board =
              [this] {
                Board board = core.engine().board();
                board.now = core.now(clock.now());
                return board;
              },
          .catalogue = [this] { return core.setup().catalogue; },
          .health = [this] { return health(); },
          .air = [this](const std::string& bay, Time from, Time to) { return core.air(bay, from, to); },
          .piece_history = [this](PieceId piece) { return core.engine().history(piece); },
          .events = [this](VehicleId vehicle) { return core.events(vehicle); },
          .alert_history = [this](Time from, Time to) { return reader->alerts_raised(from, to); },
          .personal = [this](VehicleId vehicle) { return reader->personal(vehicle); },
          .channels = [this] { return channels(); },
          .test_channel =
              [this](const std::string& name, std::function<void(Result<void>)> answer) {
                test_channel(name, std::move(answer));
              },
          .handed_over =
              [this](std::function<void(http::HandedOverAnswer)> answer) {
                pool->submit([this, now = core.now(clock.now())] { return make_handed_over(config, now); },
                             std::move(answer));
              },
          .past_vehicle =
              [this](VehicleId vehicle, std::function<void(Result<VehicleSummary>)> answer) {
                pool->submit([this, vehicle] { return make_past_vehicle(config, vehicle); },
                             std::move(answer));
              },
          .rechecks =
              [this](std::function<void(Result<RecheckReport>)> answer) {
                pool->submit([this] { return rechecks.report(config); }, std::move(answer));
              },
          .submit =
              [this](const std::string& json, std::function<void(http::SubmitAnswer)> answer) {
                core.submit(json, clock.now(), answer);
              },
          .record =
              [this](const http::RecordRequest& request, std::function<void(http::RecordAnswer)> answer) {
                pool->submit([this, request] { return make_evidence(config, sealer.get(), request); },
                             std::move(answer));
              },
          .sensors = [this] { return core.engine().sensors(); },
          .coupons = [this] { return core.engine().coupons(); },
          .measured_films = [this] { return core.engine().measured_films(); },
          .search_sensors = [this](int seconds) { return search_sensors(seconds); },
          .sensor_search = [this] { return finder.view(core.engine().mappings()); },
          .event_text = [this](const EventDetail& detail) { return event_text(detail); }};
}

// On the pool, with a connection of its own: a week of readings is many.
void App::Parts::look_for_drift() {
  const auto pairs = store::humidity_pairs(core.engine().mappings());
  for (const auto& alert : core.engine().board().alerts) {
    if (alert.rule == AlertRule::sensor_drift &&
        std::ranges::find(pairs, alert.subject, store::drift_subject) == pairs.end()) {
      core.clear(alert.rule, alert.subject);
    }
  }
  for (const auto& pair : pairs) {
    pool->submit(
        [path = config.store.path, pair,
         now = core.now(clock.now())]() -> Result<std::optional<store::Drift>> {
          const auto own = store::Reader::open(path);
          if (!own) {
            return own.error();
          }
          return store::drift_of(*own, pair, now);
        },
        [this, pair](const Result<std::optional<store::Drift>>& found) {
          if (found) {
            watch.drift(pair, *found);
          } else {
            log::warning("drift of {}: {}", pair.one.sensor, to_string(found.error()));
          }
        });
  }
}

Result<void> App::Parts::search_sensors(int seconds) {
  if (!client->connected()) {
    return Problem{"not connected to the broker", "broker"};
  }
  finder.start(clock.now(), seconds);
  notifier->post([this] {
    if (const auto searching = client->search(true); !searching) {
      log::warning("search for sensors: {}", to_string(searching.error()));
    }
  });
  return {};
}

std::string App::Parts::event_text(const EventDetail& detail) const {
  Event event;
  event.at = core.now(clock.now());
  event.detail = detail;
  return ingest::to_json(event);
}

http::Channels App::Parts::channels() const {
  http::Channels out;
  out.channels.push_back({"mqtt", "mqtt", AlertLevel::news});
  for (const NotifyChannel& channel : config.notify) {
    out.channels.push_back({channel.name, std::string{name_of(channel.kind)}, channel.least});
  }
  if (config.quiet) {
    const auto clock_text = [](std::chrono::minutes time) {
      return fmt::format("{:02}:{:02}", time.count() / 60, time.count() % 60);
    };
    out.quiet = clock_text(config.quiet->from) + "-" + clock_text(config.quiet->to);
  }
  return out;
}

// Past the outbox: what the channel answers is the answer.
void App::Parts::test_channel(const std::string& name, std::function<void(Result<void>)> answer) {
  const auto found = deliver.find(name);
  if (found == deliver.end()) {
    return answer(Problem{fmt::format("no channel '{}'", name), "channel"});
  }
  const Outgoing message = name == "mqtt"
                               ? Outgoing{"mqtt", "test", R"({"text":"A test of dryclock's alerts."})", false}
                               : test_message(name, clock.now());
  notifier->post([this, send = found->second, message, answer = std::move(answer)] {
    post([answer, sent = send(message)] { answer(sent); });
  });
}

Result<void> App::Parts::start_notify() {
  auto opened = store::Reader::open(config.store.path);
  if (!opened) {
    return opened.error();
  }
  outbox = std::move(*opened);
  deliver = make_channels(config.notify, [this] { return clock.now(); });
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
          [this](OutboxMark mark) { writer->mark(std::move(mark)); }},
      [this] { return clock.now(); });
  return {};
}

// Without a seal the shop still works: what is wrong is an alert, it is tried again, and nothing of the
// journal is lost by it.
void App::Parts::start_seal() {
  const auto folder = std::filesystem::absolute(config.store.path).parent_path();
  const auto& keys = config.seal.keys_folder;
  seal::SealerOptions options{.chain = {.database = config.store.path,
                                        .folder = folder / "seal",
                                        .keys = keys.empty() ? folder / "keys" : keys,
                                        .read_event = read_event},
                              .now = [this] { return clock.now(); }};
  if (const auto& url = config.seal.time_stamp_url; !url.empty()) {
    options.time_stamp = [url](const std::string& query) { return notify::ask_time_stamp(url, query); };
  }
  const auto tell = [this](void (Watch::*told)(const std::optional<Problem>&), std::optional<Problem> wrong) {
    post([this, told, wrong = std::move(wrong)] { (watch.*told)(wrong); });
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

Result<void> App::Parts::start() {
  const auto half_built = store::is_being_rebuilt(config.store.path);
  if (!half_built || *half_built) {
    return half_built
               ? Problem{"a rebuild was cut short: run dryclockd --rebuild again", config.store.path.string()}
               : half_built.error();
  }
  const auto session = this_session(started);
  auto opened = store::Writer::open(
      {.path = config.store.path, .ballast_bytes = std::int64_t{config.store.ballast_mib} * 1024 * 1024},
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
       .on_health = [this](store::StoreHealth told) { post([this, told] { watch.store_health(told); }); }});
  if (!opened) {
    return opened.error();
  }
  writer = std::move(*opened);
  auto read = store::Reader::open(config.store.path);
  if (!read) {
    return read.error();
  }
  reader = std::move(*read);

  const auto before = reader->extent();
  if (!before) {
    return before.error();
  }
  // A minute less: the timer that publishes comes a little after the rows.
  core.published_until(before->last_at - std::chrono::minutes{1});
  const auto replayed = replay_journal(core, *reader);
  if (!replayed) {
    return replayed.error();
  }
  log::info("replayed {} rows, {} of them not committed before; the journal ends at row {}", replayed->rows,
            replayed->recovered, replayed->last);
  append_own(RowKind::started, fmt::format(R"({{"version":"{}","boot_id":"{}","clock":"{}"}})", version,
                                           session.boot_id, session.clock_state));

  pool.emplace([this](std::function<void()> work) { post(std::move(work)); });
  topics = topics_of(core.engine().mappings());
  client = std::make_unique<mqtt::Client>(
      config.mqtt, topics,
      mqtt::Hooks{[this] { return clock.now(); },
                  [this](const RawMessage& message) { return on_message(message); },
                  [this](bool connected) {
                    log::info("broker {}", connected ? "connected" : "lost");
                    if (connected) {
                      notifier->post([this] {
                        if (const auto told = client->announce(publish_cap); !told) {
                          log::warning("status: {}", to_string(told.error()));
                        }
                      });
                      notifier->retry_now("mqtt");
                    }
                  },
                  [this](const RawMessage& message) { finder.heard(message); }});
  if (const auto ready = start_notify(); !ready) {
    return ready.error();
  }
  auto access = paired.read();
  if (!access) {
    return access.error();
  }
  server = std::make_unique<http::Server>(io,
                                          http::Options{.address = config.http.address,
                                                        .port = config.http.port,
                                                        .hosts = config.http.hosts,
                                                        .access = std::move(*access)},
                                          services(), page::assets());
  if (const auto listening = server->start(); !listening) {
    return listening.error();
  }
  notifier->start();
  start_seal();
  if (const auto connecting = client->start(); !connecting) {
    return connecting.error();
  }

  last_row = std::chrono::steady_clock::now();
  using namespace std::chrono_literals;
  const auto every = [this](Millis interval, std::function<void()> work) {
    timers.push_back(std::make_unique<Every>(io, interval, std::move(work)));
  };
  every(1s, [this] { look_at_clock(); });
  every(2s, [this] {
    if (auto let_in = paired.changed()) {
      server->let_in(std::move(*let_in));
    }
  });
  every(5s, [this] { core.publish(clock.now()); });
  every(10min, [this] { watch.look_at_disk(*reader, sealer->bytes()); });
  every(24h, [this] { writer->tidy(); });
  every(24h, [this] { look_for_drift(); });
  if (const auto interval = watchdog_interval()) {
    every(*interval, [] { tell_alive(); });
  }
  watch.look_at_disk(*reader, sealer->bytes());
  look_for_drift();
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
}

App::App(Config config) : parts_(std::make_unique<Parts>(std::move(config))) {}

App::~App() = default;

int App::run() {
  if (const auto started = parts_->start(); !started) {
    log::error("cannot start: {}", to_string(started.error()));
    return 1;
  }
  parts_->io.run();
  log::info("stopped");
  return 0;
}

}  // namespace dryclock::app
