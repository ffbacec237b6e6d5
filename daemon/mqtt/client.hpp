// The one client of the broker; MQTT 5, QoS 1, a session that the broker keeps. One a process: the library
// behind it shares its threads between clients.
//
// The library acknowledges a message when the callback returns, whatever it returns. So the callback waits
// until the sink says that the message is on disk; where it is not within two thirds of the keep-alive, the
// process ends: no acknowledgement goes out, and the broker sends the message again.
#pragma once

#include <functional>
#include <memory>
#include <string>
#include <vector>

#include "base/result.hpp"
#include "domain/effects.hpp"
#include "domain/types.hpp"
#include "mqtt/options.hpp"

namespace dryclock::mqtt {

struct Hooks {
  std::function<Time()> now;  // any thread
  // On the library's thread. True: it is on disk. May block, well below the keep-alive; is called again, with
  // the same message, after false.
  std::function<bool(const RawMessage&)> sink;
  // On the library's thread, must return at once. After `true`, announce() is due.
  std::function<void(bool connected)> connection_changed;
  // On the library's thread, must return at once: what search() hears on any topic. It is not kept.
  std::function<void(const RawMessage&)> heard = {};
};

class Client {
 public:
  // `filters`: topics to subscribe to, QoS 1, whenever a connection is made.
  Client(Options options, std::vector<std::string> filters, Hooks hooks);
  ~Client();  // stop()

  // Begins to connect, and goes on trying (1 s to 30 s apart) for as long as it lives.
  // Problem: the password or certificate file cannot be read.
  [[nodiscard]] Result<void> start();
  [[nodiscard]] bool connected() const;  // any thread

  // Both on the notify thread alone: they can wait behind a callback.
  // To <base>/<topic>, QoS 1; returns when the broker has acknowledged. Problem: it has not within `cap`.
  [[nodiscard]] Result<void> publish(const Outgoing& message, Millis cap);
  // <base>/status: "online", retained. Its last will is "offline".
  [[nodiscard]] Result<void> announce(Millis cap);

  // Also on the notify thread alone, for the same reason.
  // The topics from now on; what is left out is unsubscribed, also where that has to wait for a connection.
  void listen_to(const std::vector<std::string>& filters);
  // On: every topic but the broker's own is heard as well, at QoS 0, until it is switched off or the
  // connection is lost. Asks for subscription identifiers (MQTT 5.0, section 3.8.2.1.2): by these a message
  // that is only heard is told from one that is to be kept, however many copies the broker sends.
  // Problem: not connected, or the library refuses.
  [[nodiscard]] Result<void> search(bool on);

  // "offline", then disconnects; at most `cap`. When the notify thread has ended; nothing may be called after
  // it.
  void stop(Millis cap);

 private:
  struct State;
  std::shared_ptr<State> state_;
};

}  // namespace dryclock::mqtt
