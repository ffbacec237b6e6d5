#include <doctest/doctest.h>

#include <fstream>
#include <map>
#include <optional>

#include "line_server.hpp"
#include "notify/channels.hpp"
#include "support/certificates.hpp"
#include "support/eventually.hpp"
#include "support/free_port.hpp"
#include "support/process.hpp"

namespace dryclock::notify {
namespace {

const Outgoing hook_message{.channel = "hook", .topic = "bay cold", .payload = R"({"text":"12 \u00b0C"})"};

struct Request {
  std::string first_line;
  std::map<std::string, std::string> headers;
  std::string body;
};

Request read_request(Conversation& client) {
  Request request{.first_line = client.line(), .headers = {}, .body = {}};
  for (auto line = client.line(); !line.empty(); line = client.line()) {
    const auto colon = line.find(": ");
    request.headers[line.substr(0, colon)] = line.substr(colon + 2);
  }
  request.body = client.bytes(std::stoul(request.headers["Content-Length"]));
  return request;
}

// Answers every request with `status`; what came last is in `request` when the answer has arrived.
struct HookServer {
  explicit HookServer(const std::string& status)
      : server([this, status](Conversation& client) {
          request = read_request(client);
          client.say("HTTP/1.1 " + status + "\r\nContent-Length: 2\r\nConnection: close\r\n\r\nok");
        }) {}
  [[nodiscard]] std::string url() const {
    return "http://127.0.0.1:" + std::to_string(server.port()) + "/hook?a=b";
  }

  Request request;
  LineServer server;
};

TEST_CASE("the payload is posted as JSON, with the token") {
  const test::ScratchFolder folder;
  std::ofstream(folder / "token") << "a-token\n";
  HookServer hook("204 No Content");
  const auto deliver =
      make_deliver(Webhook{.url = hook.url(), .secret_file = folder / "token", .ca_file = {}});
  REQUIRE(deliver(hook_message).has_value());
  CHECK(hook.request.first_line == "POST /hook?a=b HTTP/1.1");
  CHECK(hook.request.headers["Content-Type"] == "application/json; charset=utf-8");
  CHECK(hook.request.headers["Authorization"] == "Bearer a-token");
  CHECK(hook.request.body == hook_message.payload);
}

TEST_CASE("only 2xx is delivered, and a redirection is not followed") {
  for (const char* status : {"301 Moved", "404 Not Found", "500 Oops"}) {
    CAPTURE(status);
    HookServer hook(status);
    const auto answer =
        make_deliver(Webhook{.url = hook.url(), .secret_file = {}, .ca_file = {}})(hook_message);
    REQUIRE_FALSE(answer.has_value());
    CHECK(answer.error().what.find(std::string{status}.substr(0, 3)) != std::string::npos);
  }
}

TEST_CASE("a server that does not answer is left after the time-out") {
  LineServer silent([](Conversation& client) { client.bytes(1'000'000); });
  const auto started = std::chrono::steady_clock::now();
  const auto answer = make_deliver(Webhook{.url = "http://127.0.0.1:" + std::to_string(silent.port()),
                                           .secret_file = {},
                                           .ca_file = {},
                                           .time_out = Millis{300}})(hook_message);
  CHECK_FALSE(answer.has_value());
  CHECK(std::chrono::steady_clock::now() - started < std::chrono::seconds{5});
}

TEST_CASE("no server, no token file and no such protocol are problems") {
  const auto try_url = [](std::string url) {
    return make_deliver(Webhook{.url = std::move(url), .secret_file = {}, .ca_file = {}})(hook_message)
        .has_value();
  };
  CHECK_FALSE(try_url("http://127.0.0.1:" + std::to_string(test::free_port())));
  CHECK_FALSE(try_url("file:///etc/hostname"));
  CHECK_FALSE(make_deliver(Webhook{.url = "http://127.0.0.1", .secret_file = "/no/such/file", .ca_file = {}})(
                  hook_message)
                  .has_value());
}

TEST_CASE("https: the authority and the host's name are checked") {
  const test::Certificates certificates;
  const auto port = std::to_string(test::free_port());
  test::Process server({"openssl", "s_server", "-www", "-accept", port, "-cert", certificates.server(),
                        "-key", certificates.server_key()});
  REQUIRE(test::eventually([&] { return test::answers(static_cast<std::uint16_t>(std::stoi(port))); }));
  const auto complaint = [&](const std::string& host, const std::filesystem::path& authority) {
    const auto answer = make_deliver(Webhook{.url = "https://" + host + ":" + port,
                                             .secret_file = {},
                                             .ca_file = authority,
                                             .time_out = Millis{1'000}})(hook_message);
    return answer.has_value() ? std::string{} : answer.error().what;
  };
  CHECK(complaint("localhost", {}).find("certificate") != std::string::npos);
  CHECK(complaint("127.0.0.1", certificates.authority()).find("127.0.0.1") != std::string::npos);
  // This server has no answer to a POST: that it was reached is seen by the time-out.
  CHECK(complaint("localhost", certificates.authority()).find("timed out") != std::string::npos);
}

}  // namespace
}  // namespace dryclock::notify
