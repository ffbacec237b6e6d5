// Ways out of the house. A Deliver sends one message and says whether it arrived; it may take as long as its
// time-out. The MQTT way is the app's: it wraps mqtt::Client::publish.
#pragma once

#include <filesystem>
#include <functional>
#include <string>
#include <vector>

#include "base/result.hpp"
#include "domain/effects.hpp"

namespace dryclock::notify {

// Called on the notify thread alone.
using Deliver = std::function<Result<void>(const Outgoing&)>;

// POST of the payload as JSON; any 2xx is success. https: certificate and host name are checked.
struct Webhook {
  std::string url;
  std::filesystem::path secret_file;  // bearer token; empty: none
  std::filesystem::path ca_file;      // empty: the system's authorities
  Millis time_out{15'000};
};
[[nodiscard]] Deliver make_deliver(Webhook settings);

// One mail a message: `topic` is the subject, `payload` the text.
struct Mail {
  std::string url;  // smtp://host:port (STARTTLS where there is a user) or smtps://host:port
  std::string user;
  std::filesystem::path secret_file;  // password
  std::string from;
  std::vector<std::string> to;
  std::filesystem::path ca_file;  // empty: the system's authorities
  Millis time_out{30'000};
};
[[nodiscard]] Deliver make_deliver(Mail settings, std::function<Time()> now);

// A program, without a shell: the payload on its standard input, the topic in DRYCLOCK_TOPIC. Success: it
// exits with 0 within the time-out; then it is killed.
struct Command {
  std::vector<std::string> arguments;  // program first, found by PATH
  Millis time_out{15'000};
};
[[nodiscard]] Deliver make_deliver(Command settings);

}  // namespace dryclock::notify
