// Pairing as a user does it, and the QR code read back by another program.
#include <doctest/doctest.h>

#include <cstdio>
#include <cstdlib>

#include "cli/qr_text.hpp"
#include "cli/run_program.hpp"
#include "support/config_files.hpp"

namespace dryclock {
namespace {

using test::has;
using test::run;
using test::ScratchFolder;
using test::write;

// The letters of qr_text as a picture (portable bitmap, 8 dots a square), read by zbarimg.
std::string scanned(const std::string& text, const ScratchFolder& folder) {
  constexpr int dots = 8;
  std::vector<std::string> rows;  // two a line, '1' is dark
  for (std::size_t at = 0; at < text.size();) {
    std::string upper;
    std::string lower;
    while (text[at] != '\n') {
      const bool blank = text[at] == ' ';
      const std::string letter = blank ? " " : text.substr(at, 3);
      upper += letter == "\u2588" || letter == "\u2580" ? '1' : '0';
      lower += letter == "\u2588" || letter == "\u2584" ? '1' : '0';
      at += letter.size();
    }
    ++at;
    rows.push_back(upper);
    rows.push_back(lower);
  }
  std::string picture =
      "P1\n" + std::to_string(rows.front().size() * dots) + " " + std::to_string(rows.size() * dots) + "\n";
  for (const auto& row : rows) {
    std::string line;
    for (const char square : row) {
      line.append(dots, square);
    }
    for (int i = 0; i < dots; ++i) {
      picture += line + "\n";
    }
  }
  const auto file = write(folder, "code.pbm", picture);
  const auto out = folder / "read.txt";
  const std::string command =
      "zbarimg --quiet --raw '" + file.string() + "' > '" + out.string() + "' 2>/dev/null";
  if (std::system(command.c_str()) != 0) {  // NOLINT(concurrency-mt-unsafe,cert-env33-c)
    return "zbarimg found no code";
  }
  auto read = test::read(out);
  return read.substr(0, read.find('\n'));
}

constexpr auto reachable = R"([http]
address = "0.0.0.0"
port = 8123
token_file = "tokens"
[[bay]]
name = "front"
)";

}  // namespace

TEST_CASE("zbarimg reads what the QR code was made of") {
  const ScratchFolder folder;
  for (const std::string content :
       {"http://box.example:8077/pair?token=qL3-_x", "a",
        "http://[2001:db8::17]:65535/pair?token=ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopq"}) {
    CHECK(scanned(cli::qr_text(content, false), folder) == content);
  }
}

TEST_CASE("a terminal gets black on white, line by line") {
  const auto text = cli::qr_text("a", true);
  CHECK(text.starts_with("\x1b[30;107m "));
  CHECK(text.ends_with("\x1b[0m\n"));
}

TEST_CASE("pair prints the phone's address, as text and as a code that zbarimg reads") {
  const ScratchFolder folder;
  const auto config = write(folder, "shop.toml", reachable);
  const auto ran = run("pair --host box.example -c '" + config.string() + "'");
  CAPTURE(ran.out);
  REQUIRE(ran.code == 0);
  const auto from = ran.out.find("http://box.example:8123/pair?token=");
  REQUIRE(from != std::string::npos);
  const auto address = ran.out.substr(from, ran.out.find('\n', from) - from);
  CHECK(scanned(ran.out.substr(0, from - 1), folder) == address);
  CHECK(test::read(folder / "tokens") == address.substr(address.find('=') + 1) + " phone\n");

  // A second phone, and a screen on the wall.
  CHECK(run("pair --host box.example -c '" + config.string() + "'").code == 0);
  CHECK(run("pair --read-only --host box.example -c '" + config.string() + "'").code == 0);
  const auto list = run("pair --list -c '" + config.string() + "'");
  CHECK(list.out == "phone\nphone-2\nscreen  may only look\n");
  CHECK(run("pair --withdraw phone -c '" + config.string() + "'").code == 0);
  CHECK(run("pair --list -c '" + config.string() + "'").out == "phone-2\nscreen  may only look\n");
  CHECK(run("pair --withdraw phone -c '" + config.string() + "'").code == 4);
  CHECK(run("pair --json --withdraw screen -c '" + config.string() + "'").out ==
        "{\"withdrawn\":\"screen\"}\n");
  CHECK(run("pair --name phone-2 --host box.example -c '" + config.string() + "'").code == 4);
  CHECK(run("pair --name 'the old phone' --host box.example -c '" + config.string() + "'").code == 0);
  CHECK(has(run("pair --list -c '" + config.string() + "'"), "\nthe old phone\n"));
  CHECK(run("pair --name 'my/phone' --host box.example -c '" + config.string() + "'").code == 2);
}

TEST_CASE("pair says what to set where no phone can come in") {
  const ScratchFolder folder;
  const auto closed = write(folder, "closed.toml", "[[bay]]\nname = \"front\"\n");
  const auto ran = run("pair -c '" + closed.string() + "'");
  CAPTURE(ran.out);
  CHECK(ran.code == 4);
  CHECK(has(ran, "no token_file is set"));
  CHECK(has(ran, "address = \"0.0.0.0\""));
  CHECK(has(ran, "token_file = \"/var/lib/dryclock/tokens\""));

  const auto loopback =
      write(folder, "loopback.toml", "[http]\ntoken_file = \"tokens\"\n[[bay]]\nname = \"front\"\n");
  CHECK(has(run("pair -c '" + loopback.string() + "'"), "listens on 127.0.0.1 alone"));
  CHECK_FALSE(std::filesystem::exists(folder / "tokens"));
  const auto behind_proxy =
      write(folder, "proxy.toml",
            "[http]\ntoken_file = \"tokens\"\nrequire_token = true\n[[bay]]\nname = \"front\"\n");
  CHECK(run("pair --host bay.example -c '" + behind_proxy.string() + "'").code == 0);
  CHECK(std::filesystem::exists(folder / "tokens"));

  const auto credential =
      write(folder, "credential.toml",
            "[http]\naddress = \"0.0.0.0\"\ntoken_file = \"/run/credentials/dryclockd.service/x\"\n"
            "[[bay]]\nname = \"front\"\n");
  CHECK(has(run("pair -c '" + credential.string() + "'"), "credential of systemd's"));
  CHECK(run("pair -c nowhere.toml").code == 4);
}

}  // namespace dryclock
