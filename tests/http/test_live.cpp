#include <doctest/doctest.h>

#include <boost/asio/io_context.hpp>
#include <boost/json/parse.hpp>
#include <boost/json/value.hpp>
#include <chrono>
#include <list>

#include "http/client.hpp"
#include "support/lived_shop.hpp"
#include "support/running_shop.hpp"

namespace dryclock::test {
namespace {

using std::chrono::milliseconds;

constexpr std::string_view listen = "GET /api/v1/live HTTP/1.1\r\nHost: localhost\r\n\r\n";

http::Options quick_beats() {
  http::Options options;
  options.live_gap = milliseconds{50};
  options.heartbeat = milliseconds{100};
  return options;
}

// The board of the next event, as JSON; null where none comes in time.
boost::json::value next_board(Client& client, milliseconds longest) {
  if (client.read_until("event: board\ndata: ", longest).find("event: board") == std::string::npos) {
    return nullptr;
  }
  return boost::json::parse(client.read_until("\n\n", longest));
}

// Something that shows on the board.
void note(RunningShop& server) {
  server.on_core([](WholeShop& shop) {
    shop.does(R"({"what":"note","note":"it rains","vehicle":)" +
              std::to_string(vehicle_in(shop, "White van")) + "}");
  });
}

}  // namespace

TEST_CASE("a live reader gets the board at once and again when it changed") {
  RunningShop server{quick_beats()};
  Client client{server.port()};
  client.send(listen);
  const auto head = client.reply();
  CHECK(head.status == 200);
  CHECK(head.headers.at("content-type") == "text/event-stream");
  CHECK(head.headers.count("content-length") == 0);
  const auto first = next_board(client, milliseconds{2000});
  server.on_core(
      [](WholeShop& shop) { shop.does(R"({"what":"vehicle-in","reference":"Red coupe","bay":"front"})"); });
  // A board of the same row may come between: an outlook was ready, or a message waits.
  auto second = next_board(client, milliseconds{2000});
  for (int more = 0; more < 5 && second.at("applied") == first.at("applied"); ++more) {
    second = next_board(client, milliseconds{2000});
  }
  CHECK(second.at("applied").as_int64() > first.at("applied").as_int64());
  const auto& vehicles = second.at("vehicles").as_array();
  CHECK(vehicles.size() == first.at("vehicles").as_array().size() + 1);
  CHECK(vehicles.back().at("reference") == "Red coupe");
}

TEST_CASE("many changes in a moment are few boards, and the last one is among them") {
  auto options = quick_beats();
  options.live_gap = milliseconds{300};
  options.heartbeat = std::chrono::hours{1};
  RunningShop server{options};
  Client client{server.port()};
  client.send(listen);
  CHECK(client.reply().status == 200);
  CHECK_FALSE(next_board(client, milliseconds{2000}).is_null());
  const auto begin = std::chrono::steady_clock::now();
  for (int i = 0; i < 20; ++i) {
    note(server);
  }
  std::int64_t applied = 0;
  int boards = 0;
  for (auto board = next_board(client, milliseconds{1000}); !board.is_null();
       board = next_board(client, milliseconds{1000})) {
    applied = board.at("applied").as_int64();
    ++boards;
  }
  std::int64_t journalled = 0;
  server.on_core([&](WholeShop& shop) { journalled = shop.parts().core.applied(); });
  CHECK(applied == journalled);
  // No two closer together than the gap.
  CHECK(boards <= (std::chrono::steady_clock::now() - begin) / options.live_gap + 1);
}

TEST_CASE("a heartbeat keeps quiet connections known to be alive") {
  RunningShop server{quick_beats()};
  Client client{server.port()};
  client.send(listen);
  CHECK(client.reply().status == 200);
  CHECK_FALSE(next_board(client, milliseconds{2000}).is_null());
  // Between boards, for those come whenever something changes.
  const auto come = "\n\n" + client.read_until(":\n\n", milliseconds{2000});
  CHECK(come.ends_with("\n\n:\n\n"));
}

TEST_CASE("readers come and go, half of the connections at most") {
  auto options = quick_beats();
  options.connection_cap = 6;
  RunningShop server{options};
  {
    std::list<Client> readers;
    for (int i = 0; i < 3; ++i) {
      readers.emplace_back(server.port()).send(listen);
      CHECK(readers.back().reply().status == 200);
      CHECK_FALSE(next_board(readers.back(), milliseconds{2000}).is_null());
    }
    CHECK(get(server.port(), "/api/v1/live").status == 503);
    CHECK(get(server.port(), "/api/v1/board").status == 200);
  }
  // They are gone: there is room again.
  int status = 0;
  for (int tries = 0; tries < 40 && status != 200; ++tries) {
    note(server);
    status = get(server.port(), "/api/v1/live").status;
  }
  CHECK(status == 200);
}

TEST_CASE("a reader that does not read holds up nobody") {
  auto options = quick_beats();
  options.live_gap = milliseconds{1};
  options.write_timeout = milliseconds{500};
  RunningShop server{options};
  Client stuck{server.port()};
  stuck.shrink_receive_buffer();
  stuck.send(listen);
  Client brisk{server.port()};
  brisk.send(listen);
  CHECK(brisk.reply().status == 200);
  for (int i = 0; i < 300; ++i) {
    note(server);
  }
  const auto board = next_board(brisk, milliseconds{2000});
  CHECK_FALSE(board.is_null());
  CHECK(get(server.port(), "/api/v1/board").status == 200);
}

TEST_CASE("it stops for good, a heartbeat on its way or not") {
  auto options = quick_beats();
  options.heartbeat = milliseconds{1};
  options.port = 0;
  for (int i = 0; i < 200; ++i) {
    boost::asio::io_context io;
    http::Server server{io, options, {}, {}};  // nobody asks it anything
    REQUIRE(server.start().has_value());
    io.run_for(std::chrono::microseconds{900 + i});
    server.stop();
    io.run_for(std::chrono::seconds{10});
    CHECK(io.stopped());  // nothing is left to do
  }
}

TEST_CASE("stopping ends live readers") {
  auto server = std::make_unique<RunningShop>(quick_beats());
  Client client{server->port()};
  client.send(listen);
  CHECK(client.reply().status == 200);
  server.reset();
  CHECK(client.closes(milliseconds{2000}));
}

}  // namespace dryclock::test
