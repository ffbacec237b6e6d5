// The way to a time stamping authority, against a small HTTP responder with `openssl ts` behind it.
#include "notify/time_stamp.hpp"

#include <doctest/doctest.h>

#include <map>

#include "line_server.hpp"
#include "seal/time_stamp.hpp"
#include "support/stamp_authority.hpp"

namespace dryclock::notify {
namespace {

struct Responder {
  explicit Responder(std::string given_status, std::string given_type)
      : status(std::move(given_status)), type(std::move(given_type)) {}
  [[nodiscard]] std::string url() const {
    return "http://127.0.0.1:" + std::to_string(server.port()) + "/tsa";
  }

  std::string status, type;
  test::StampAuthority authority;
  std::string asked_as;
  LineServer server{[this](Conversation& client) {
    (void)client.line();
    std::map<std::string, std::string> headers;
    for (auto line = client.line(); !line.empty(); line = client.line()) {
      const auto colon = line.find(": ");
      headers[line.substr(0, colon)] = line.substr(colon + 2);
    }
    asked_as = headers["Content-Type"];
    const auto answer = authority.answer(client.bytes(std::stoul(headers["Content-Length"])));
    client.say("HTTP/1.1 " + status + "\r\nContent-Type: " + type + "\r\nContent-Length: " +
               std::to_string(answer.size()) + "\r\nConnection: close\r\n\r\n" + answer);
  }};
};

// RFC 3161, section 3.4: the two content types.
TEST_CASE("a query is posted, and the answer comes back whole") {
  Responder responder("200 OK", "application/timestamp-reply");
  const auto query = seal::time_stamp_query("a list");
  const auto answer = ask_time_stamp(responder.url(), query);
  REQUIRE_MESSAGE(answer.has_value(), (answer ? "" : to_string(answer.error())));
  CHECK(responder.asked_as == "application/timestamp-query");
  CHECK(seal::check_granted(query, *answer).has_value());
  CHECK(seal::time_of_stamp("a list", *answer, responder.authority.certificate()).has_value());
}

TEST_CASE("no answer, and what is none, is told") {
  const auto query = seal::time_stamp_query("a list");
  const Responder busy("503 Service Unavailable", "application/timestamp-reply");
  CHECK(ask_time_stamp(busy.url(), query).error().what == "answered with status 503");
  const Responder page("200 OK", "text/html");
  CHECK(ask_time_stamp(page.url(), query).error().what == "did not answer with a time stamp");
  CHECK_FALSE(ask_time_stamp("http://127.0.0.1:1/", query).has_value());
  CHECK_FALSE(ask_time_stamp("file:///etc/hostname", query).has_value());
}

}  // namespace
}  // namespace dryclock::notify
