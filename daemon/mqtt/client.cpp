#include "mqtt/client.hpp"

#include <mqtt/async_client.h>

#include <algorithm>
#include <chrono>
#include <cstdlib>
#include <functional>
#include <future>
#include <iterator>
#include <mutex>
#include <set>
#include <thread>

#include "base/log.hpp"
#include "base/secret_file.hpp"
#include "domain/types.hpp"

namespace dryclock::mqtt {
namespace {

using Steady = std::chrono::steady_clock;

constexpr int qos = 1;
constexpr std::chrono::seconds first_retry{1}, longest_retry{30};
constexpr Millis least_keep_alive{60'000};
// How long the broker keeps the session, and what comes for it, while the daemon is away.
constexpr std::int32_t session_expiry_s = 60 * 24 * 3600;
constexpr Millis sink_retry{250};
constexpr const char* everything = "#";  // does not take topics that start with "$"
// Subscription identifiers, in use during a search alone: not every broker knows them.
constexpr std::int32_t own_id = 1, search_id = 2;

bool has_id(const ::mqtt::properties& properties, std::int32_t id) {
  constexpr auto code = ::mqtt::property::SUBSCRIPTION_IDENTIFIER;
  for (std::size_t i = 0; i < properties.count(code); ++i) {
    if (::mqtt::get<std::int32_t>(properties, code, i) == id) {
      return true;
    }
  }
  return false;
}

std::string address_of(const Options& options) {
  const bool is_ipv6 = options.host.find(':') != std::string::npos;
  return (options.tls ? "ssl://" : "tcp://") + (is_ipv6 ? "[" + options.host + "]" : options.host) + ":" +
         std::to_string(options.port);
}

class LogFailure : public ::mqtt::iaction_listener {
 public:
  explicit LogFailure(std::string what) : what_(std::move(what)) {}

 private:
  void on_failure(const ::mqtt::token& token) override {
    log::error("{}: the broker refused or was lost (code {})", what_, token.get_return_code());
  }
  void on_success(const ::mqtt::token& /*token*/) override {}

  std::string what_;
};

}  // namespace

// Shared with the teardown's thread: see Client::stop.
struct Client::State {
  State(Options o, std::vector<std::string> f, Hooks h)
      : options(std::move(o)),
        hooks(std::move(h)),
        patience(std::max(options.keep_alive, least_keep_alive) * 2 / 3),
        status_topic(options.base + "/status"),
        library(address_of(options), options.client_id, ::mqtt::create_options(MQTTVERSION_5)) {
    wanted.filters = std::move(f);
  }

  struct Wanted {  // of the broker
    std::vector<std::string> filters;
    bool searching = false;
    std::set<std::string> left{everything};  // to be unsubscribed: the session may still hold them
    std::uint64_t revision = 0;
  };

  const Options options;
  std::mutex
      wanted_mutex;  // the library's thread and the notify thread; never held over a call of the library
  Wanted wanted;
  const Hooks hooks;
  const Millis patience;  // of a callback with the sink
  const std::string status_topic;
  std::atomic<bool> connected = false;
  std::atomic<bool> abandoned = false;
  LogFailure subscription{"MQTT subscription"};
  ::mqtt::connect_options connect;  // the library keeps pointers into it
  ::mqtt::async_client library;     // last, so that its threads are gone before the rest

  Result<void> prepare();
  void on_connected();
  void change(const std::function<void(Wanted&)>& how);
  void settle();
  void listen_to(const std::vector<std::string>& filters);
  Result<void> search(bool on);
  void on_lost();
  void on_message(const ::mqtt::message& message);
  Result<void> publish(const std::string& topic, const std::string& payload, bool retained, Millis cap);
  void say_goodbye(Millis cap);
};

Result<void> Client::State::prepare() {
  connect.set_mqtt_version(MQTTVERSION_5);
  connect.set_clean_start(false);
  connect.set_keep_alive_interval(std::max(options.keep_alive, least_keep_alive));
  connect.set_automatic_reconnect(first_retry, longest_retry);
  connect.set_properties({{::mqtt::property::SESSION_EXPIRY_INTERVAL, session_expiry_s},
                          {::mqtt::property::MAXIMUM_PACKET_SIZE, static_cast<std::int32_t>(packet_limit)}});
  connect.set_will_message(::mqtt::make_message(status_topic, "offline", qos, true));
  if (!options.user.empty()) {
    connect.set_user_name(options.user);
  }
  if (!options.password_file.empty()) {
    auto password = read_secret(options.password_file);
    if (!password) {
      return password.error();
    }
    connect.set_password(*password);
  }
  if (options.tls) {
    ::mqtt::ssl_options tls;
    tls.set_enable_server_cert_auth(true);
    tls.set_verify(true);  // the host's name, which the library does not check by itself
    if (!options.ca_file.empty()) {
      if (!std::filesystem::exists(options.ca_file)) {
        return Problem{"no such file", options.ca_file.string()};
      }
      tls.set_trust_store(options.ca_file.string());
    }
    connect.set_ssl(std::move(tls));
  }
  return {};
}

// No exception may leave a callback of the library: it would end the process.

void Client::State::on_connected() {
  try {
    connected = true;
    // In the callback, and at every connection: the library does not subscribe again by itself.
    change([](Wanted& now) {
      now.searching = false;
      now.left.insert(everything);
    });
    settle();
  } catch (const std::exception& error) {
    log::error("MQTT subscription: {}", error.what());
  }
  if (!abandoned && hooks.connection_changed) {
    hooks.connection_changed(true);
  }
}

void Client::State::change(const std::function<void(Wanted&)>& how) {
  const std::lock_guard lock{wanted_mutex};
  how(wanted);
  ++wanted.revision;
}

// Brings the broker's subscriptions to what is wanted. The library calls us with its own lock held, and takes
// that lock in its calls: so none is made with ours held. Where another thread wants something else
// meanwhile, it is done again. Throws the library's exceptions; what was to be left then still is.
void Client::State::settle() {
  // Retained messages come with a new subscription alone; what this process publishes does not come back.
  const ::mqtt::subscribe_options own{::mqtt::subscribe_options::SUBSCRIBE_NO_LOCAL, false,
                                      ::mqtt::subscribe_options::SEND_RETAINED_ON_NEW};
  const ::mqtt::subscribe_options all{::mqtt::subscribe_options::SUBSCRIBE_NO_LOCAL, false,
                                      ::mqtt::subscribe_options::SEND_RETAINED_ON_SUBSCRIBE};
  std::vector<std::string> subscribed;  // by this call
  while (true) {
    Wanted now;
    {
      const std::lock_guard lock{wanted_mutex};
      now = wanted;
    }
    std::ranges::copy_if(subscribed, std::inserter(now.left, now.left.end()), [&](const auto& filter) {
      return !(now.searching && filter == everything) &&
             std::ranges::find(now.filters, filter) == now.filters.end();
    });
    for (const auto& filter : now.left) {
      library.unsubscribe(filter);
    }
    ::mqtt::properties numbered;
    if (now.searching) {
      numbered.add({::mqtt::property::SUBSCRIPTION_IDENTIFIER, own_id});
    }
    for (const auto& filter : now.filters) {  // one at a time: the call for many loses the options
      library.subscribe(filter, qos, nullptr, subscription, own, numbered);
    }
    if (now.searching) {
      library.subscribe(everything, 0, nullptr, subscription, all,
                        {{::mqtt::property::SUBSCRIPTION_IDENTIFIER, search_id}});
    }
    subscribed = now.filters;
    if (now.searching) {
      subscribed.emplace_back(everything);
    }
    const std::lock_guard lock{wanted_mutex};
    if (wanted.revision == now.revision) {
      wanted.left.clear();
      return;
    }
  }
}

void Client::State::listen_to(const std::vector<std::string>& filters) {
  change([&](Wanted& now) {
    now.left.insert(now.filters.begin(), now.filters.end());
    now.filters = filters;
    for (const auto& filter : now.filters) {
      now.left.erase(filter);
    }
  });
  if (!connected) {
    return;
  }
  try {
    settle();
  } catch (const ::mqtt::exception& error) {
    log::error("MQTT subscription: {}", error.what());
  }
}

Result<void> Client::State::search(bool on) {
  if (!connected) {
    return Problem{"not connected to the broker", ""};
  }
  change([on](Wanted& now) {
    now.searching = on;
    if (on) {
      now.left.erase(everything);
    } else {
      now.left.insert(everything);
    }
  });
  try {
    settle();
    return {};
  } catch (const ::mqtt::exception& error) {
    return Problem{error.what(), everything};
  }
}

void Client::State::on_lost() {
  if (connected.exchange(false) && !abandoned && hooks.connection_changed) {
    hooks.connection_changed(false);
  }
}

void Client::State::on_message(const ::mqtt::message& message) {
  try {
    const auto& payload = message.get_payload_ref();
    const bool cut = payload.size() > payload_limit;
    if (cut) {
      log::warning("MQTT: {} bytes on {}; the first {} are kept", payload.size(), message.get_topic(),
                   payload_limit);
    }
    const RawMessage raw{.topic = message.get_topic(),
                         .payload = std::string(payload.data(), std::min(payload.size(), payload_limit)),
                         .received_at = hooks.now(),
                         .qos = message.get_qos(),
                         .dup = message.is_duplicate(),
                         .retained = message.is_retained(),
                         .cut = cut};
    if (has_id(message.get_properties(), search_id)) {
      if (hooks.heard) {
        hooks.heard(raw);
      }
      if (!has_id(message.get_properties(), own_id)) {
        return;
      }
    }
    const auto deadline = Steady::now() + patience;
    while (!abandoned && !hooks.sink(raw)) {
      if (Steady::now() >= deadline) {
        log::error("MQTT: a message could not be kept for {} s; ending, so that the broker sends it again",
                   std::chrono::duration_cast<std::chrono::seconds>(patience).count());
        std::_Exit(1);
      }
      std::this_thread::sleep_for(sink_retry);
    }
  } catch (const std::exception& error) {
    log::error("MQTT: a message could not be kept: {}", error.what());
    std::_Exit(1);
  }
  while (abandoned) {  // returning would acknowledge it; the process is about to end
    std::this_thread::sleep_for(std::chrono::seconds{1});
  }
}

Result<void> Client::State::publish(const std::string& topic, const std::string& payload, bool retained,
                                    Millis cap) {
  if (!connected) {
    return Problem{"not connected to the broker", topic};
  }
  try {
    const auto token = library.publish(::mqtt::make_message(topic, payload, qos, retained));
    if (!token->wait_for(cap)) {
      return Problem{"the broker has not acknowledged in time", topic};
    }
    if (token->get_reason_code() >= ::mqtt::ReasonCode::UNSPECIFIED_ERROR) {
      return Problem{"the broker refused it (code " + std::to_string(token->get_reason_code()) + ")", topic};
    }
    return {};
  } catch (const ::mqtt::exception& error) {
    return Problem{error.what(), topic};
  }
}

void Client::State::say_goodbye(Millis cap) {
  if (connected) {
    (void)publish(status_topic, "offline", true, cap);
  }
  try {
    library.disconnect(cap)->wait_for(cap);
  } catch (const ::mqtt::exception&) {  // it was not connected
  }
}

Client::Client(Options options, std::vector<std::string> filters, Hooks hooks)
    : state_(std::make_shared<State>(std::move(options), std::move(filters), std::move(hooks))) {}

Client::~Client() {
  stop(Millis{1'000});
}

bool Client::connected() const {
  return state_ && state_->connected;
}

Result<void> Client::start() {
  if (auto ready = state_->prepare(); !ready) {
    return ready;
  }
  auto* state = state_.get();
  // Before connect, once: what the broker has kept for us comes before subscribe returns, and a message
  // without a handler is acknowledged and lost.
  state->library.set_message_callback([state](const auto& message) { state->on_message(*message); });
  state->library.set_connected_handler([state](const std::string&) { state->on_connected(); });
  state->library.set_connection_lost_handler([state](const std::string&) { state->on_lost(); });
  state->library.set_disconnected_handler([state](const auto&, auto) { state->on_lost(); });
  try {
    state->library.connect(state->connect);  // fails at once where no broker is; the library goes on trying
  } catch (const ::mqtt::exception& error) {
    return Problem{error.what(), address_of(state->options)};
  }
  return {};
}

Result<void> Client::publish(const Outgoing& message, Millis cap) {
  return state_->publish(state_->options.base + "/" + message.topic, message.payload, message.retained, cap);
}

void Client::listen_to(const std::vector<std::string>& filters) {
  state_->listen_to(filters);
}

Result<void> Client::search(bool on) {
  return state_->search(on);
}

Result<void> Client::announce(Millis cap) {
  return state_->publish(state_->status_topic, "online", true, cap);
}

void Client::stop(Millis cap) {
  if (!state_) {
    return;
  }
  // On a thread of its own: any call can wait behind the library's look-up of a name, which can take a
  // minute. Then the client is left to that thread, and its callbacks go quiet.
  const std::weak_ptr<State> left = state_;
  std::promise<void> done;
  const auto finished = done.get_future();
  std::thread teardown([state = std::exchange(state_, nullptr), done = std::move(done), cap]() mutable {
    state->say_goodbye(cap / 3);
    state.reset();
    done.set_value();
  });
  if (finished.wait_for(cap) == std::future_status::ready) {
    teardown.join();
    return;
  }
  if (const auto state = left.lock()) {
    state->abandoned = true;
  }
  teardown.detach();
  log::warning("MQTT: the client did not end within {} ms", cap.count());
}

}  // namespace dryclock::mqtt
