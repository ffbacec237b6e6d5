// The parts of the daemon, and what each tells the others. The parts themselves know nothing of each other.
#pragma once

#include <boost/asio/io_context.hpp>
#include <boost/asio/post.hpp>
#include <boost/asio/signal_set.hpp>
#include <chrono>
#include <functional>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "app/app.hpp"
#include "app/core.hpp"
#include "app/paired.hpp"
#include "app/recheck_index.hpp"
#include "app/sensor_finder.hpp"
#include "app/startup.hpp"
#include "app/timers.hpp"
#include "app/watch.hpp"
#include "base/clock.hpp"
#include "base/local_time.hpp"
#include "compute/pool.hpp"
#include "history/device_times.hpp"
#include "http/server.hpp"
#include "mqtt/client.hpp"
#include "notify/notifier.hpp"
#include "seal/sealer.hpp"
#include "store/reader.hpp"
#include "store/writer.hpp"

namespace dryclock::app {

// The topics to subscribe to, once each.
[[nodiscard]] std::vector<std::string> topics_of(const std::vector<SensorMapping>& mappings);

// Members in the order in which they start; the destructor stops what still runs in the reverse order.
struct App::Parts {
  explicit Parts(Config given, MachineClocks ours = {});
  ~Parts() { stop(); }

  // parts.cpp: how they are built, start and stop.
  [[nodiscard]] Result<void> start();
  void stop();

  // rows.cpp: what comes in, and where it goes.
  void on_rows(std::vector<JournalRow> rows);
  void date_anew();
  [[nodiscard]] bool on_message(const RawMessage& message);
  void listen();
  void append_own(RowKind kind, std::string payload);
  void look_ahead(OutlookTask task);

  // upkeep.cpp: what is done by the clock.
  void start_timers();
  void look_at_clock();
  void look_for_silence();
  void look_at_device_times();
  void look_for_drift();

  // services.cpp: what the server may ask.
  [[nodiscard]] http::Services services();
  [[nodiscard]] CatalogueView catalogue() const;
  [[nodiscard]] Health health() const;
  [[nodiscard]] Channels channels() const;
  [[nodiscard]] Result<void> search_sensors(int seconds);
  [[nodiscard]] RecheckWork recheck_work();
  void make_record(const http::RecordRequest& request, std::function<void(http::RecordAnswer)> answer);
  void await_seal(Seq row, std::function<void()> then);
  void test_channel(const std::string& name, std::function<void(Result<void>)> answer);

  // Hands work to the core thread; any thread.
  void post(std::function<void()> work) { boost::asio::post(io, std::move(work)); }

  Config config;
  LocalZone zone = LocalZone::find(config.setup.site.time_zone).value();  // the configuration was checked
  http::Options serving{.address = config.http.address,
                        .port = config.http.port,
                        .hosts = config.http.hosts,
                        .access = {.require_token = config.http.require_token, .tokens = {}}};
  MachineClocks clocks;
  MachineClock machine = clocks.look();  // as it was looked at last
  BootClock clock{machine.booted, clocks.since_boot};
  bool time_known = true;
  bool clock_trusted = false;             // somebody vouched for it in this boot, or set it
  history::DeviceTimes device_times;      // in this boot
  std::optional<Time> judged_by_devices;  // what they told when the clock was judged last
  Time started = clock.now();
  store::Session session = this_session(started, machine);
  boost::asio::io_context io{1};
  std::unique_ptr<store::Writer> writer;
  std::optional<store::Reader> reader;  // the core thread's
  std::optional<store::Reader> outbox;  // the notify thread's
  Core core;
  SensorFinder finder;
  Watch watch;
  Paired paired;
  RecheckIndex rechecks{recheck_work()};
  std::optional<compute::Pool> pool;
  std::unique_ptr<http::Server> server;
  std::unique_ptr<mqtt::Client> client;
  std::map<std::string, notify::Deliver> deliver;  // by the channel's name; called on the notify thread alone
  std::unique_ptr<notify::Notifier> notifier;
  std::unique_ptr<seal::Sealer> sealer;
  boost::asio::signal_set signals{io};
  std::vector<std::unique_ptr<Every>> timers;
  std::chrono::steady_clock::time_point last_row{};
  std::vector<std::string> topics;  // subscribed to
  bool replay_due = false;          // rows were dated anew, and the journal could not be read since
  bool stopped = false;

 private:
  [[nodiscard]] Result<void> start_store();
  [[nodiscard]] Result<void> replay();
  void start_client();
  [[nodiscard]] Result<void> start_notify();
  [[nodiscard]] Result<void> start_server();
  void start_seal();
};

}  // namespace dryclock::app
