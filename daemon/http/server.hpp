// The HTTP server: API, page and live updates, on the core thread's io_context. Everything here is called,
// and calls Services, on the thread that runs it.
#pragma once

#include <cstdint>
#include <memory>
#include <span>
#include <string>
#include <vector>

#include "base/result.hpp"
#include "http/access.hpp"
#include "http/asset.hpp"
#include "http/services.hpp"

namespace boost::asio {
class io_context;
}

namespace dryclock::http {

struct Options {
  std::string address = "127.0.0.1";  // numeric, IPv4 or IPv6
  std::uint16_t port = 8077;          // 0: a free one
  std::vector<std::string> hosts;     // names besides loopback's and `address` by which it may be called
  Access access;
  std::size_t body_limit = 64 * 1024;  // bytes
  std::size_t header_limit = 8 * 1024;
  std::size_t connection_cap = 64;
  Millis read_timeout{15'000};  // for a whole request
  Millis idle_timeout{60'000};  // between requests
  Millis write_timeout{30'000};
  Millis live_gap{500};  // boards are sent no closer together
  Millis heartbeat{15'000};
};

class Server {
 public:
  // `assets` must live as long as the server.
  Server(boost::asio::io_context& io, const Options& options, Services services,
         std::span<const Asset> assets);
  ~Server();  // stops

  // Listens and begins to accept. Problem: the address cannot be used.
  [[nodiscard]] Result<void> start();
  [[nodiscard]] std::uint16_t port() const;  // after start
  // The board differs from the one last sent: live readers get the new one soon.
  void board_changed();
  // Other tokens from now on. Live readers are cut off: those that are still let in come back by themselves.
  void let_in(Access access);
  // Closes the listener and every connection; running answers are cut.
  void stop();

 private:
  struct State;
  std::shared_ptr<State> state_;
};

}  // namespace dryclock::http
