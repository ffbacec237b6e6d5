#include <doctest/doctest.h>

#include <algorithm>
#include <fstream>
#include <iterator>

#include "line_server.hpp"
#include "notify/channels.hpp"
#include "support/scratch_folder.hpp"

namespace dryclock::notify {
namespace {

const Outgoing mail_message{.channel = "mail",
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

// The lines between the empty line behind the part's own headers and the boundary.
std::vector<std::string> body_of(const std::vector<std::string>& mail) {
  auto line = std::find(mail.begin(), mail.end(), "Content-Transfer-Encoding: base64");
  line = std::find(line, mail.end(), "");
  const auto ends = [](const std::string& one) { return one.starts_with("--"); };
  const auto end = std::find_if(line, mail.end(), ends);
  return line == mail.end() ? std::vector<std::string>{} : std::vector<std::string>(line + 1, end);
}

bool contains(const std::vector<std::string>& lines, const std::string& line) {
  return std::find(lines.begin(), lines.end(), line) != lines.end();
}

TEST_CASE("a mail is handed over, one copy for each recipient") {
  MailServer server("250 yes");
  REQUIRE(make_deliver(server.settings(), &sunday)(mail_message).has_value());
  CHECK(contains(server.commands, "MAIL FROM:<bay@shop.example>"));
  CHECK(contains(server.commands, "RCPT TO:<one@shop.example>"));
  CHECK(contains(server.commands, "RCPT TO:<two@shop.example>"));
  CHECK(contains(server.mail, "From: bay@shop.example"));
  CHECK(contains(server.mail, "To: one@shop.example, two@shop.example"));
  CHECK(contains(server.mail, "Date: Sun, 01 Mar 2026 12:00:00 +0000"));
  // The subject, and "Look at the heater.\n.\nIt is cold.", by coreutils' base64
  CHECK(contains(server.mail, "Subject: =?UTF-8?B?QmF5IGZyb250OiAxMiDCsEM=?="));
  CHECK(contains(server.mail, "Content-Type: text/plain; charset=utf-8"));
  CHECK(body_of(server.mail) == std::vector<std::string>{"TG9vayBhdCB0aGUgaGVhdGVyLgouCkl0IGlzIGNvbGQu"});
}

// RFC 5322, section 3.6.4: a message has one identifier, another message another one.
TEST_CASE("a mail has an identifier of its own, with the sender's host") {
  const auto id_of = [](const Outgoing& outgoing) {
    MailServer server("250 yes");
    REQUIRE(make_deliver(server.settings(), &sunday)(outgoing).has_value());
    std::vector<std::string> found;
    std::ranges::copy_if(server.mail, std::back_inserter(found),
                         [](const auto& line) { return line.starts_with("Message-ID:"); });
    REQUIRE(found.size() == 1);
    return found[0];
  };
  auto other = mail_message;
  other.payload += ".";
  CHECK(id_of(mail_message).starts_with("Message-ID: <"));
  CHECK(id_of(mail_message).ends_with("@shop.example>"));
  CHECK(id_of(mail_message) != id_of(other));
}

TEST_CASE("a subject cannot begin another header, nor the text") {
  MailServer server("250 yes");
  auto sent = mail_message;
  sent.topic = "cold\r\nBcc: all@shop.example\r\n\r\nsurprise";
  REQUIRE(make_deliver(server.settings(), &sunday)(sent).has_value());
  CHECK(contains(server.mail, "Subject: cold  Bcc: all@shop.example    surprise"));
  CHECK_FALSE(contains(server.mail, "Bcc: all@shop.example"));
  CHECK_FALSE(contains(server.mail, "surprise"));
}

TEST_CASE("no line of the text is longer than RFC 2045's 76 characters") {
  MailServer server("250 yes");
  auto sent = mail_message;
  sent.payload = std::string(500, 'x');
  REQUIRE(make_deliver(server.settings(), &sunday)(sent).has_value());
  std::size_t digits = 0;
  for (const auto& line : body_of(server.mail)) {
    CHECK(line.size() <= 76);
    digits += line.size();
  }
  CHECK(digits == 668);  // 500 bytes: 167 groups of 4
}

TEST_CASE("a refused recipient is a problem") {
  MailServer server("550 nobody of that name");
  CHECK_FALSE(make_deliver(server.settings(), &sunday)(mail_message).has_value());
  CHECK(server.mail.empty());
}

TEST_CASE("a password does not go to a server without TLS") {
  const test::ScratchFolder folder;
  std::ofstream(folder / "password") << "secret\n";
  MailServer server("250 yes");
  auto settings = server.settings();
  settings.user = "bay";
  settings.secret_file = folder / "password";
  CHECK_FALSE(make_deliver(settings, &sunday)(mail_message).has_value());
  for (const auto& line : server.commands) {
    CHECK_FALSE(line.starts_with("AUTH"));
  }
}

}  // namespace
}  // namespace dryclock::notify
