#include <doctest/doctest.h>

#include "base/sha256.hpp"
#include "http/guard.hpp"

namespace dryclock::http {
namespace {

constexpr WrongTokens::Instant now{};

Request request(std::string method, std::string target,
                std::vector<std::pair<std::string, std::string>> headers) {
  Request made;
  made.method = std::move(method);
  made.target = std::move(target);
  made.headers = std::move(headers);
  made.peer = "127.0.0.1";
  made.local_address = "127.0.0.1";
  made.from_this_machine = true;
  return made;
}

// The status that ends it; 0 where it may go on.
int status_of(Guard& guard, const Request& asked) {
  const auto stopped = guard.stop(asked, parse_target(asked.target).value(), now);
  return stopped ? stopped->status : 0;
}

int with_host(const std::string& host) {
  Guard guard{{"Dry.Shop.Example"}, {}};
  return status_of(guard, request("GET", "/api/v1/board", {{"host", host}}));
}

}  // namespace

TEST_CASE("only our own names are answered") {
  for (const auto* host : {"localhost", "LOCALHOST:8077", "127.0.0.1", "127.0.0.1:8077", "[::1]", "[::1]:1",
                           "dry.shop.example", "dry.shop.example:80"}) {
    CAPTURE(host);
    CHECK(with_host(host) == 0);
  }
  for (const auto* host : {"evil.example", "localhost.evil.example", "evil.example:8077", "", ":80",
                           "localhost:", "localhost:80x", "localhost:1234567", "[::1", "[::1]80",
                           "localhost@evil.example", "localhost."}) {
    CAPTURE(host);
    CHECK(with_host(host) == 421);
  }
}

TEST_CASE("the address that was called is a name of ours, another one is not") {
  Guard guard{{}, {}};
  auto asked = request("GET", "/", {{"host", "192.168.7.2:8077"}});
  CHECK(status_of(guard, asked) == 421);
  asked.local_address = "192.168.7.2";
  CHECK(status_of(guard, asked) == 0);
}

TEST_CASE("exactly one Host") {
  Guard guard{{}, {}};
  CHECK(status_of(guard, request("GET", "/", {})) == 400);
  CHECK(status_of(guard, request("GET", "/", {{"host", "localhost"}, {"host", "localhost"}})) == 400);
}

TEST_CASE("the absolute form is held to the same names") {
  Guard guard{{}, {}};
  CHECK(status_of(guard, request("GET", "http://localhost:8077/api/v1/board", {{"host", "localhost"}})) == 0);
  CHECK(status_of(guard, request("GET", "http://evil.example/api/v1/board", {{"host", "localhost"}})) == 421);
}

TEST_CASE("another site's page may neither tell nor listen") {
  Guard guard{{}, {}};
  const auto origin = [&](const std::string& method, const std::string& name, const std::string& value) {
    return status_of(guard, request(method, "/api/v1/events", {{"host", "localhost:8077"}, {name, value}}));
  };
  CHECK(origin("POST", "origin", "http://localhost:8077") == 0);
  CHECK(origin("POST", "origin", "HTTP://LOCALHOST:8077") == 0);
  CHECK(origin("POST", "origin", "https://localhost:8077") == 0);  // behind a proxy that ends TLS
  CHECK(origin("POST", "origin", "http://evil.example") == 403);
  CHECK(origin("POST", "origin", "http://localhost:9000") == 403);
  CHECK(origin("POST", "origin", "null") == 403);
  CHECK(origin("POST", "sec-fetch-site", "cross-site") == 403);
  CHECK(origin("POST", "sec-fetch-site", "same-site") == 403);
  CHECK(origin("POST", "sec-fetch-site", "same-origin") == 0);
  CHECK(origin("GET", "sec-fetch-site", "cross-site") == 403);
  CHECK(origin("GET", "sec-fetch-site", "none") == 0);
  // A link on another site may open the page.
  CHECK(status_of(guard, request("GET", "/", {{"host", "localhost"}, {"sec-fetch-site", "cross-site"}})) ==
        0);
}

TEST_CASE("over the network a token is needed, from this machine none unless told so") {
  const std::vector<Token> tokens{{sha256_hex("phone"), false}, {sha256_hex("wall"), true}};
  Guard guard{{}, {false, tokens}};
  auto asked = request("GET", "/api/v1/board", {{"host", "localhost"}});
  CHECK(status_of(guard, asked) == 0);
  asked.from_this_machine = false;
  asked.peer = "192.168.7.9";
  CHECK(status_of(guard, asked) == 401);
  asked.headers = {{"host", "localhost"}, {"authorization", "Bearer phone"}};
  CHECK(status_of(guard, asked) == 0);
  asked.headers = {{"host", "localhost"}, {"cookie", "a=b; dryclock=phone; c=d"}};
  CHECK(status_of(guard, asked) == 0);
  asked.headers = {{"host", "localhost"}, {"cookie", "xdryclock=phone"}};
  CHECK(status_of(guard, asked) == 401);
  // The page itself tells nothing, and shows how to pair.
  asked.target = "/";
  asked.headers = {{"host", "localhost"}};
  CHECK(status_of(guard, asked) == 0);

  Guard strict{{}, {true, tokens}};
  CHECK(status_of(strict, request("GET", "/api/v1/board", {{"host", "localhost"}})) == 401);
}

TEST_CASE("a wall screen's token reads and does not write") {
  Guard guard{{}, {true, {{sha256_hex("wall"), true}}}};
  CHECK(status_of(guard, request("GET", "/api/v1/board",
                                 {{"host", "localhost"}, {"cookie", "dryclock=wall"}})) == 0);
  CHECK(status_of(guard, request("POST", "/api/v1/events",
                                 {{"host", "localhost"}, {"cookie", "dryclock=wall"}})) == 403);
  CHECK_FALSE(guard.may_write(request("GET", "/api/v1/access", {{"cookie", "dryclock=wall"}})));
  CHECK_FALSE(guard.may_write(request("GET", "/api/v1/access", {})));
  CHECK(Guard{{}, {}}.may_write(request("GET", "/api/v1/access", {{"cookie", "dryclock=wall"}})));
  Guard phone{{}, {true, {{sha256_hex("phone"), false}}}};
  CHECK(phone.may_write(request("GET", "/api/v1/access", {{"authorization", "Bearer phone"}})));
}

TEST_CASE("a device that is let in later is known, one that is withdrawn no longer") {
  Guard guard{{}, {}};
  auto asked = request("GET", "/api/v1/board", {{"host", "localhost"}, {"authorization", "Bearer phone"}});
  asked.from_this_machine = false;
  CHECK(status_of(guard, asked) == 401);
  guard.let_in({false, {{sha256_hex("phone"), false}}});
  CHECK(status_of(guard, asked) == 0);
  guard.let_in({});
  CHECK(status_of(guard, asked) == 401);
}

TEST_CASE("guessing is braked, for right tokens from that address too") {
  Guard guard{{}, {true, {{sha256_hex("phone"), false}}}};
  const auto bearing = [&](const std::string& token) {
    return status_of(guard, request("GET", "/api/v1/board",
                                    {{"host", "localhost"}, {"authorization", "bearer " + token}}));
  };
  for (int i = 0; i < WrongTokens::limit; ++i) {
    CHECK(bearing("guess") == 401);
  }
  CHECK(bearing("guess") == 429);
  CHECK(bearing("phone") == 429);
}

TEST_CASE("pairing sets a cookie that no script and no other site sees") {
  Guard guard{{}, {true, {{sha256_hex("phone"), false}}}};
  const auto asked = request("GET", "/pair?token=phone", {{"host", "localhost"}});
  const auto paired = guard.pair(asked, parse_target(asked.target).value(), now);
  CHECK(paired.status == 303);
  REQUIRE(paired.headers.size() == 2);
  CHECK(paired.headers[0] == std::pair<std::string, std::string>{"Location", "/"});
  CHECK(paired.headers[1].second == "dryclock=phone; HttpOnly; SameSite=Strict; Path=/; Max-Age=31536000");
  const auto wrong = request("GET", "/pair?token=guess", {{"host", "localhost"}});
  for (int i = 0; i < WrongTokens::limit; ++i) {
    CHECK(guard.pair(wrong, parse_target(wrong.target).value(), now).status == 401);
  }
  CHECK(guard.pair(asked, parse_target(asked.target).value(), now).status == 429);
}

TEST_CASE("a head with what the parser would let pass is at fault") {
  CHECK_FALSE(fault_of_head("GET / HTTP/1.1\r\nHost: localhost\r\n\r\n"));
  CHECK(fault_of_head("GET / HTTP/1.1\r\nHost: localhost\r\n folded\r\n\r\n"));
  CHECK(fault_of_head("GET / HTTP/1.1\r\nHost: localhost\r\n\tfolded\r\n\r\n"));
  CHECK(fault_of_head("GET / HTTP/1.1\nHost: localhost\r\n\r\n"));
  CHECK(fault_of_head("GET / HTTP/1.1\r\nA: b\rc\r\n\r\n"));
  CHECK(fault_of_head("GET /\xff HTTP/1.1\r\nHost: localhost\r\n\r\n"));
  CHECK(fault_of_head("\r\n\r\n"));
  CHECK(fault_of_head({"GET / HTTP/1.1\r\nA: \0\r\n\r\n", 24}));
}

}  // namespace dryclock::http
