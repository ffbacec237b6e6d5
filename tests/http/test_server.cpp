#include <doctest/doctest.h>
#include <fmt/format.h>

#include <boost/asio/io_context.hpp>
#include <boost/json/parse.hpp>
#include <boost/json/value.hpp>
#include <chrono>
#include <list>
#include <random>

#include "base/sha256.hpp"
#include "http/client.hpp"
#include "support/lived_shop.hpp"
#include "support/running_shop.hpp"

namespace dryclock::test {
namespace {

using std::chrono::milliseconds;

constexpr std::string_view good = "GET /api/v1/board HTTP/1.1\r\nHost: localhost\r\n\r\n";

std::string with_head(const std::string& first_line, const std::string& headers) {
  return first_line + "\r\n" + headers + "\r\n";
}

http::Options quick_timeouts() {
  http::Options options;
  options.read_timeout = milliseconds{200};
  options.idle_timeout = milliseconds{200};
  return options;
}

// For those who change nothing in it.
const RunningShop& any_shop() {
  static const RunningShop shop;
  return shop;
}

}  // namespace

TEST_CASE("the board over a socket") {
  const auto& server = any_shop();
  const auto reply = get(server.port(), "/api/v1/board");
  CHECK(reply.status == 200);
  CHECK(reply.headers.at("content-type") == "application/json");
  CHECK(reply.headers.at("date").ends_with(" GMT"));
  const auto vehicles = boost::json::parse(reply.body).at("vehicles");
  CHECK(vehicles.as_array().size() == 2);
  CHECK(vehicles.at(0).at("reference") == "Grey estate");
}

TEST_CASE("HEAD tells the length and sends no body") {
  const auto& server = any_shop();
  Client client{server.port()};
  client.send("HEAD /api/v1/board HTTP/1.1\r\nHost: localhost\r\n\r\n");
  const auto reply = client.reply(true);
  CHECK(reply.status == 200);
  CHECK(std::stoul(reply.headers.at("content-length")) > 1000);
  client.send(good);  // the next reply begins where it should
  CHECK(client.reply().status == 200);
  client.send("HEAD /api/v1/live HTTP/1.1\r\nHost: localhost\r\n\r\n");
  CHECK(client.reply(true).status == 200);
  CHECK(client.closes(milliseconds{2000}));
}

TEST_CASE("requests one after another, and several at once, on one connection") {
  const auto& server = any_shop();
  Client client{server.port()};
  client.send(good);
  CHECK(client.reply().status == 200);
  client.send(std::string{good} + std::string{good});
  CHECK(client.reply().status == 200);
  CHECK(client.reply().status == 200);
}

TEST_CASE("HTTP/1.0 is answered and closed") {
  const auto& server = any_shop();
  Client client{server.port()};
  client.send("GET / HTTP/1.0\r\nHost: localhost\r\n\r\n");
  CHECK(client.reply().status == 200);
  CHECK(client.closes(milliseconds{2000}));
}

TEST_CASE("what is malformed or hostile is refused, each in its way") {
  const auto& server = any_shop();
  const std::string get_root = "GET / HTTP/1.1";
  const std::string host = "Host: localhost\r\n";
  const std::string post_head = "POST /api/v1/events HTTP/1.1";
  const std::string type = "Content-Type: application/json\r\n";
  const std::pair<std::string, int> cases[] = {
      {with_head(get_root, "Host: evil.example\r\n"), 421},
      {with_head(get_root, ""), 400},
      {with_head(get_root, host + host), 400},
      {with_head(get_root, host + "A: b\r\n c\r\n"), 400},
      {with_head(get_root, host + "A : b\r\n"), 400},
      {with_head(get_root, host + "no colon\r\n"), 400},
      {with_head("GET /\xff HTTP/1.1", host), 400},
      {with_head("GET /%zz HTTP/1.1", host), 400},
      {with_head("GET / nonsense", host), 400},
      {with_head("GET /", host), 400},
      {with_head("GET  / HTTP/1.1", host), 400},
      {with_head("/ HTTP/1.1", host), 400},
      {with_head("\x16\x03\x01", host), 400},  // TLS on a plain port
      {with_head("GET / HTTP/2.0", host), 400},
      {with_head("GET http://localhost/ HTTP/1.1", host), 200},
      {with_head("GET http://evil.example/ HTTP/1.1", host), 421},
      {with_head("FETCH / HTTP/1.1", host), 501},
      {with_head("PUT / HTTP/1.1", host), 405},
      {with_head("OPTIONS * HTTP/1.1", host), 400},
      {with_head("CONNECT localhost:80 HTTP/1.1", host), 400},
      {with_head("GET /../../etc/passwd HTTP/1.1", host), 404},
      {with_head("GET /..%2f..%2fetc/passwd HTTP/1.1", host), 404},
      {with_head(post_head, host + type + "Content-Length: 99999999\r\n"), 413},
      {with_head(post_head, host + type + "Content-Length: -1\r\n"), 400},
      {with_head(post_head, host + type + "Content-Length: 1\r\nContent-Length: 2\r\n"), 400},
      {with_head(post_head, host + type + "Content-Length: 3\r\nTransfer-Encoding: chunked\r\n"), 400},
      {with_head(post_head, host + type + "Transfer-Encoding: gzip\r\n"), 501},
      {with_head(post_head, host + type + "Transfer-Encoding: chunked\r\n") + "zz\r\n", 400},
      {with_head(post_head, host + type + "Origin: http://evil.example\r\nContent-Length: 0\r\n"), 403},
      {with_head(get_root, host + "A: " + std::string(9000, 'a') + "\r\n"), 431},
      {"GET /" + std::string(20'000, 'a'), 431},
  };
  for (const auto& [bytes, status] : cases) {
    const std::string begins = bytes.substr(0, 120);
    CAPTURE(begins);
    const auto reply = ask(server.port(), bytes);
    CHECK(reply.status == status);
    CHECK(reply.headers.count("access-control-allow-origin") == 0);
    if (status != 200) {
      CHECK(boost::json::parse(reply.body).at("status") == status);
    }
  }
  CHECK(get(server.port(), "/api/v1/board").status == 200);
}

TEST_CASE("a body that grows past the limit in chunks is 413") {
  http::Options options;
  options.body_limit = 1000;
  RunningShop server{options};
  const std::string chunk = "200\r\n" + std::string(0x200, ' ') + "\r\n";
  const auto reply = ask(server.port(),
                         "POST /api/v1/events HTTP/1.1\r\nHost: localhost\r\nContent-Type: "
                         "application/json\r\nTransfer-Encoding: chunked\r\n\r\n" +
                             chunk + chunk + "0\r\n\r\n");
  CHECK(reply.status == 413);
}

TEST_CASE("an event in chunks, and one that waits to be asked for") {
  RunningShop server;
  std::string event;
  server.on_core([&](WholeShop& shop) {
    event =
        fmt::format(R"({{"what":"note","vehicle":{},"note":"in chunks"}})", vehicle_in(shop, "Grey estate"));
  });
  const std::string head =
      "POST /api/v1/events HTTP/1.1\r\nHost: localhost\r\nContent-Type: application/json\r\n";
  CHECK(ask(server.port(), fmt::format("{}Transfer-Encoding: chunked\r\n\r\n{:x}\r\n{}\r\n0\r\n\r\n", head,
                                       event.size(), event))
            .status == 201);
  Client client{server.port()};
  client.send(fmt::format("{}Expect: 100-continue\r\nContent-Length: {}\r\n\r\n", head, event.size()));
  CHECK(client.reply().status == 100);
  client.send(event);
  CHECK(client.reply().status == 201);
}

TEST_CASE("who sends slowly or nothing is dropped") {
  RunningShop server{quick_timeouts()};
  Client silent{server.port()};
  Client slow{server.port()};
  slow.send("GET / HTTP/1.1\r\nHost: loc");
  Client half{server.port()};
  half.send(
      "POST /api/v1/events HTTP/1.1\r\nHost: localhost\r\nContent-Type: application/json\r\nContent-Length: "
      "100\r\n\r\n{");
  CHECK(silent.closes(milliseconds{2000}));
  CHECK(slow.closes(milliseconds{2000}));
  CHECK(half.closes(milliseconds{2000}));
}

TEST_CASE("at the cap the longest idle connection makes room") {
  http::Options options;
  options.connection_cap = 4;
  RunningShop server{options};
  std::list<Client> idle;
  for (int i = 0; i < 12; ++i) {
    idle.emplace_back(server.port()).send(good);
    CHECK(idle.back().reply().status == 200);
  }
  CHECK(idle.front().closes(milliseconds{2000}));
  idle.back().send(good);
  CHECK(idle.back().reply().status == 200);
}

TEST_CASE("bytes at random never stop it") {
  RunningShop server{quick_timeouts()};
  std::mt19937 draw{20260307};
  for (int i = 0; i < 300; ++i) {
    std::string bytes;
    if (i % 2 == 0) {
      for (auto n = draw() % 400; n > 0; --n) {
        bytes += static_cast<char>(draw());
      }
    } else {
      bytes = good;
      for (auto n = 1 + draw() % 4; n > 0; --n) {
        bytes[draw() % bytes.size()] = static_cast<char>(draw());
      }
    }
    Client client{server.port()};
    client.send(bytes + "\r\n\r\n");
    if (i % 10 == 0) {
      (void)client.reply();
    }
  }
  CHECK(get(server.port(), "/api/v1/board").status == 200);
}

TEST_CASE("who goes before the answer does no harm") {
  const auto& server = any_shop();
  for (int i = 0; i < 50; ++i) {
    Client{server.port()}.send(good);
  }
  CHECK(get(server.port(), "/api/v1/board").status == 200);
}

TEST_CASE("with a token required, loopback needs it too; pairing gives it") {
  http::Options options;
  options.access.require_token = true;
  RunningShop server{options};
  server.on_core([](WholeShop& shop) {
    shop.parts().server->let_in({true, {{sha256_hex("phone"), false}}});
  });
  CHECK(get(server.port(), "/").status == 200);
  CHECK(get(server.port(), "/api/v1/board").status == 401);
  CHECK(get(server.port(), "/api/v1/live").status == 401);
  const auto paired = get(server.port(), "/pair?token=phone");
  CHECK(paired.status == 303);
  const std::string cookie = paired.headers.at("set-cookie");
  CHECK(
      get(server.port(), "/api/v1/board", "Cookie: " + cookie.substr(0, cookie.find(';')) + "\r\n").status ==
      200);
  for (int i = 0; i < 5; ++i) {
    CHECK(get(server.port(), "/api/v1/board", "Authorization: Bearer guess\r\n").status == 401);
  }
  const auto braked = get(server.port(), "/api/v1/board", "Authorization: Bearer guess\r\n");
  CHECK(braked.status == 429);
  CHECK(braked.headers.at("retry-after") == "60");
}

TEST_CASE("it does not start where it cannot") {
  boost::asio::io_context io;
  const auto problem = [&](const http::Options& options) {
    http::Server server{io, options, {}, {}};
    const auto started = server.start();
    return started ? std::string{} : started.error().what;
  };
  http::Options open;
  open.address = "0.0.0.0";
  open.port = 0;
  CHECK(problem(open).empty());  // nobody is paired yet: the network gets 401, and this machine is let in
  open.address = "shop.example";
  CHECK(problem(open).find("numeric") != std::string::npos);
  http::Options free;
  free.port = 0;
  http::Server other{io, free, {}, {}};
  CHECK(other.start().has_value());
  http::Options taken;
  taken.port = other.port();
  CHECK(problem(taken).find("cannot listen") != std::string::npos);
}

TEST_CASE("the first board comes within 300 ms of the first byte sent") {
  const auto& server = any_shop();
  const auto begin = std::chrono::steady_clock::now();
  CHECK(get(server.port(), "/api/v1/board").status == 200);
  CHECK(std::chrono::steady_clock::now() - begin < milliseconds{300});
}

}  // namespace dryclock::test
