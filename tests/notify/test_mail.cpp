#include <doctest/doctest.h>

#include <fstream>

#include "line_server.hpp"
#include "notify/channels.hpp"
#include "support/scratch_folder.hpp"

namespace dryclock::notify {
namespace {

const Outgoing message{.channel = "mail",
                       .topic =
                           "Bay front: 12 \xC2\xB0"
                           "C",
                       .payload = "Look at the heater.\n.\nIt is cold."};

Time sunday() {
  return from_unix_ms(1'772'366'400'000);
}

// As much of RFC 5321 as a client needs to hand over a mail.
struct MailServer {
  explicit MailServer(const std::string& answer_to_recipient)
      : server([this, answer_to_recipient](Conversation& client) {
          client.say("220 test\r\n");
          for (auto line = client.line(); !line.empty() && line != "QUIT"; line = client.line()) {
            commands.push_back(line);
            if (line.starts_with("RCPT")) {
              client.say(answer_to_recipient + "\r\n");
            } else if (line == "DATA") {
              client.say("354 go on\r\n");
              read_mail(client);
              client.say("250 taken\r\n");
            } else {
              client.say("250 yes\r\n");
            }
          }
          client.say("221 bye\r\n");
        }) {}
  void read_mail(Conversation& client) {
    for (int empty_lines = 0; empty_lines < 3;) {  // the end of the stream reads as empty lines
      auto line = client.line();
      if (line == ".") {
        return;
      }
      empty_lines = line.empty() ? empty_lines + 1 : 0;
      mail.push_back(std::move(line));
    }
  }
  [[nodiscard]] Mail settings() const {
    return {.url = "smtp://127.0.0.1:" + std::to_string(server.port()),
            .user = {},
            .secret_file = {},
            .from = "bay@shop.example",
            .to = {"one@shop.example", "two@shop.example"},
            .ca_file = {},
            .time_out = Millis{5'000}};
  }

  std::vector<std::string> commands, mail;
  LineServer server;
};

bool contains(const std::vector<std::string>& lines, const std::string& line) {
  return std::find(lines.begin(), lines.end(), line) != lines.end();
}

TEST_CASE("a mail is handed over, one copy for each recipient") {
  MailServer server("250 yes");
  REQUIRE(make_deliver(server.settings(), &sunday)(message).has_value());
  CHECK(contains(server.commands, "MAIL FROM:<bay@shop.example>"));
  CHECK(contains(server.commands, "RCPT TO:<one@shop.example>"));
  CHECK(contains(server.commands, "RCPT TO:<two@shop.example>"));
  CHECK(contains(server.mail, "From: bay@shop.example"));
  CHECK(contains(server.mail, "To: one@shop.example, two@shop.example"));
  CHECK(contains(server.mail, "Date: Sun, 01 Mar 2026 12:00:00 +0000"));
  // "Look at the heater.\n.\nIt is cold." by coreutils' base64
  CHECK(contains(server.mail, "TG9vayBhdCB0aGUgaGVhdGVyLgouCkl0IGlzIGNvbGQu"));
}

TEST_CASE("a refused recipient is a problem") {
  MailServer server("550 nobody of that name");
  CHECK_FALSE(make_deliver(server.settings(), &sunday)(message).has_value());
  CHECK(server.mail.empty());
}

TEST_CASE("a password does not go to a server without TLS") {
  const test::ScratchFolder folder;
  std::ofstream(folder / "password") << "secret\n";
  MailServer server("250 yes");
  auto settings = server.settings();
  settings.user = "bay";
  settings.secret_file = folder / "password";
  CHECK_FALSE(make_deliver(settings, &sunday)(message).has_value());
  for (const auto& line : server.commands) {
    CHECK_FALSE(line.starts_with("AUTH"));
  }
}

}  // namespace
}  // namespace dryclock::notify
