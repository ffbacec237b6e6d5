// fake_shop PORT NOW: serves the page and an invented shop, standing still at NOW (RFC 3339), until it is
// killed. For tests of the page, and to work on the page without a daemon. Prints "ready PORT" when it
// listens; a line "refuse 503" or "dialect us" on its standard input changes it.
#include <fmt/format.h>

#include <boost/asio.hpp>
#include <cstdio>
#include <iostream>
#include <sstream>

#include "http/fake_shop.hpp"
#include "http/server.hpp"
#include "page/assets.hpp"

namespace net = boost::asio;

namespace {

int serve(int count, char** words) {
  const auto now = count == 3 ? dryclock::parse_rfc3339(words[2])
                              : dryclock::Result<dryclock::Time>{dryclock::Problem{"fake_shop PORT NOW", {}}};
  if (!now) {
    std::cerr << to_string(now.error()) << "\n";
    return 2;
  }
  const dryclock::ManualClock clock{now.value()};
  net::io_context io{1};
  dryclock::fake::Shop shop{clock};
  dryclock::http::Server* running = nullptr;
  dryclock::http::Options options;
  options.port = static_cast<std::uint16_t>(std::stoi(words[1]));
  dryclock::http::Server server{io, options, shop.services([&] { running->board_changed(); }),
                                dryclock::page::assets()};
  running = &server;
  if (const auto started = server.start(); !started) {
    std::cerr << to_string(started.error()) << "\n";
    return 1;
  }
  std::cout << "ready " << server.port() << std::endl;

  net::posix::stream_descriptor input{io, 0};
  net::streambuf line;
  std::function<void()> read = [&] {
    net::async_read_until(input, line, '\n', [&](boost::system::error_code error, std::size_t) {
      if (error) {
        io.stop();  // the test that started it is gone
        return;
      }
      std::istream text{&line};
      std::string what;
      std::string value;
      text >> what >> value;
      text.ignore();
      if (what == "refuse") {
        shop.refuse(std::stoi(value));
      } else if (what == "dialect") {
        shop.set_dialect(value);
      }
      read();
    });
  };
  read();
  io.run();
  return 0;
}

}  // namespace

int main(int count, char** words) {
  try {
    return serve(count, words);
  } catch (const std::exception& problem) {
    std::fprintf(stderr, "fake_shop: %s\n", problem.what());
    return 1;
  }
}
