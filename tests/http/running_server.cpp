#include "http/running_server.hpp"

#include <doctest/doctest.h>

#include <boost/asio.hpp>
#include <future>
#include <thread>

namespace dryclock::test {
namespace {

constexpr http::Asset assets[] = {
    {"/", "text/html; charset=utf-8", "\"1\"", "<p>page</p>", "gzipped page"},
    {"/page.js", "text/javascript", "\"2\"", "script", "gzipped script"},
};

}  // namespace

struct RunningServer::State {
  explicit State(http::Options options)
      : shop(clock),
        server(io, (options.port = 0, options), shop.services([this] { server.board_changed(); }), assets) {}

  ManualClock clock{parse_rfc3339("2026-03-07T06:40:00Z").value()};
  boost::asio::io_context io{1};
  fake::Shop shop;
  http::Server server;
  std::thread thread;
};

RunningServer::RunningServer(http::Options options) : state_(std::make_unique<State>(std::move(options))) {
  (void)state_->server.start().value();
  state_->thread = std::thread{[this] { state_->io.run(); }};
}

RunningServer::~RunningServer() {
  try {
    boost::asio::post(state_->io, [this] { state_->server.stop(); });
    state_->thread.join();
  } catch (const std::exception& problem) {
    FAIL_CHECK(problem.what());
  }
}

std::uint16_t RunningServer::port() const {
  return state_->server.port();
}

void RunningServer::on_core(const std::function<void(fake::Shop&, http::Server&)>& work) {
  std::promise<void> done;
  boost::asio::post(state_->io, [&] {
    work(state_->shop, state_->server);
    done.set_value();
  });
  done.get_future().wait();
}

}  // namespace dryclock::test
