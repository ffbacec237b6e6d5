// One connection: requests one after another, or a live reader until it goes. Its sockets and parsers stay in
// connection.cpp, the one file that knows Beast. All on the thread that runs the io_context.
#pragma once

#include <chrono>
#include <cstddef>
#include <memory>
#include <optional>
#include <string>

#include "http/router.hpp"
#include "http/server.hpp"

namespace dryclock::http {

// What connections share with the server, and may outlive it with.
struct Shared {
  Shared(const Options& given, Services services, std::span<const Asset> assets)
      : options(given), router(std::move(services), Guard{given.hosts, given.access}, assets) {}

  Options options;
  Router router;
  std::size_t live_readers = 0;
};

// A piece of an event stream, one for all its readers.
using Chunk = std::shared_ptr<const std::string>;
[[nodiscard]] Chunk board_chunk(const Router& router);

class Connection {
 public:
  Connection() = default;
  Connection(const Connection&) = delete;
  Connection& operator=(const Connection&) = delete;
  virtual ~Connection() = default;

  virtual void start() = 0;   // reads the first request
  virtual void refuse() = 0;  // answers 503 and ends
  virtual void close() = 0;   // now; nothing is called afterwards
  [[nodiscard]] virtual bool closed() const = 0;
  [[nodiscard]] virtual bool live() const = 0;
  // Waiting for a request since then; nothing while one is being answered.
  [[nodiscard]] virtual std::optional<std::chrono::steady_clock::time_point> idle_since() const = 0;
  // To a live reader; one that is slow gets the newest board only.
  virtual void push(const Chunk& chunk) = 0;
  virtual void push_heartbeat() = 0;
};

// Takes over the descriptor of an accepted TCP socket. Alive until the last holder and the last outstanding
// operation let go.
[[nodiscard]] std::shared_ptr<Connection> make_connection(boost::asio::io_context& io, int descriptor,
                                                          bool v6, std::shared_ptr<Shared> shared);

}  // namespace dryclock::http
