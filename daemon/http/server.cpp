#include "http/server.hpp"

#include <boost/asio.hpp>
#include <list>

#include "base/log.hpp"
#include "http/connection.hpp"
#include "http/live_pace.hpp"

namespace dryclock::http {
namespace {

namespace net = boost::asio;
using boost::system::error_code;
using net::ip::tcp;

constexpr std::chrono::milliseconds accept_pause{100};

}  // namespace

struct Server::State : std::enable_shared_from_this<Server::State> {
  State(net::io_context& context, const Options& given, Services services, std::span<const Asset> assets)
      : shared(std::make_shared<Shared>(given, std::move(services), assets)),
        options(shared->options),
        io(context),
        acceptor(io),
        live_timer(io),
        heartbeat_timer(io),
        pause_timer(io),
        pace(options.live_gap) {}

  Result<void> listen() {
    const auto failed = [&](const std::string& why) {
      return Problem{
          "cannot listen on " + options.address + " port " + std::to_string(options.port) + ": " + why,
          "http.address"};
    };
    error_code error;
    const auto address = net::ip::make_address(options.address, error);
    if (error) {
      return failed("a numeric address is needed");
    }
    const tcp::endpoint endpoint{address, options.port};
    acceptor.open(endpoint.protocol(), error);
    if (!error) {
      acceptor.set_option(tcp::acceptor::reuse_address{true}, error);
    }
    if (!error) {
      acceptor.bind(endpoint, error);
    }
    if (!error) {
      acceptor.listen(net::socket_base::max_listen_connections, error);
    }
    if (error) {
      return failed(error.message());
    }
    accept();
    beat();
    return {};
  }

  void accept() {
    acceptor.async_accept([self = shared_from_this()](error_code error, tcp::socket socket) {
      if (!self->acceptor.is_open()) {
        return;
      }
      if (error) {
        // Out of descriptors, most likely: trying again at once would spin.
        log::warning("http: cannot accept: {}", error.message());
        self->pause_timer.expires_after(accept_pause);
        self->pause_timer.async_wait([self](error_code stopped) {
          if (!stopped) {
            self->accept();
          }
        });
        return;
      }
      const bool v6 = socket.local_endpoint(error).protocol() == tcp::v6();
      const int descriptor = socket.release(error);
      if (!error) {
        self->accept(make_connection(self->io, descriptor, v6, self->shared));
      }
      self->accept();
    });
  }

  // At the cap the longest idle connection makes room; where all are at work the new one is refused.
  void accept(const std::shared_ptr<Connection>& connection) {
    connections.remove_if([](const auto& weak) {
      const auto one = weak.lock();
      return !one || one->closed();
    });
    if (connections.size() >= options.connection_cap && !make_room()) {
      connection->refuse();
      return;
    }
    connections.push_back(connection);
    connection->start();
  }

  bool make_room() {
    std::shared_ptr<Connection> oldest;
    for (const auto& weak : connections) {
      const auto one = weak.lock();
      if (one && one->idle_since() && (!oldest || *one->idle_since() < *oldest->idle_since())) {
        oldest = one;
      }
    }
    if (oldest) {
      oldest->close();
    }
    return oldest != nullptr;
  }

  template <class Visit>
  void each_live(Visit visit) {
    for (const auto& weak : connections) {
      if (const auto one = weak.lock(); one && one->live()) {
        visit(*one);
      }
    }
  }

  void changed() {
    const auto when = pace.changed(std::chrono::steady_clock::now());
    if (!when) {
      return;
    }
    live_timer.expires_at(*when);
    live_timer.async_wait([self = shared_from_this()](error_code stopped) {
      if (!stopped) {
        self->send_board();
      }
    });
  }

  void send_board() {
    pace.sent(std::chrono::steady_clock::now());
    Chunk chunk;
    each_live([&](Connection& one) {
      if (!chunk) {
        chunk = board_chunk(shared->router);
      }
      one.push(chunk);
    });
  }

  void beat() {
    heartbeat_timer.expires_after(options.heartbeat);
    heartbeat_timer.async_wait([self = shared_from_this()](error_code stopped) {
      // A timer that had run out already cannot be cancelled any more.
      if (!stopped && self->acceptor.is_open()) {
        self->each_live([](Connection& one) { one.push_heartbeat(); });
        self->beat();
      }
    });
  }

  void stop() {
    error_code ignored;
    acceptor.close(ignored);
    live_timer.cancel();
    heartbeat_timer.cancel();
    pause_timer.cancel();
    for (const auto& weak : connections) {
      if (const auto one = weak.lock()) {
        one->close();
      }
    }
    connections.clear();
  }

  std::shared_ptr<Shared> shared;
  const Options& options;
  net::io_context& io;
  tcp::acceptor acceptor;
  net::steady_timer live_timer, heartbeat_timer, pause_timer;
  LivePace pace;
  std::list<std::weak_ptr<Connection>> connections;
};

Server::Server(net::io_context& io, const Options& options, Services services, std::span<const Asset> assets)
    : state_(std::make_shared<State>(io, options, std::move(services), assets)) {}

Server::~Server() {
  try {
    stop();
  } catch (const std::exception& problem) {
    log::warning("http: {}", problem.what());
  }
}

Result<void> Server::start() {
  return state_->listen();
}

std::uint16_t Server::port() const {
  error_code ignored;
  return state_->acceptor.local_endpoint(ignored).port();
}

void Server::board_changed() {
  state_->changed();
}

void Server::let_in(Access access) {
  state_->shared->router.let_in(std::move(access));
  state_->each_live([](Connection& one) { one.close(); });
}

void Server::stop() {
  state_->stop();
}

}  // namespace dryclock::http
