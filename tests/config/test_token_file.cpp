#include <doctest/doctest.h>
#include <fcntl.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include <chrono>
#include <optional>
#include <set>
#include <thread>

#include "config/token_file.hpp"
#include "support/config_files.hpp"

namespace dryclock {
namespace {

using test::read;
using test::ScratchFolder;
using test::write;

std::string names(const std::vector<PairedDevice>& devices) {
  std::string text;
  for (const auto& device : devices) {
    text += device.token + (device.read_only ? " looks as " : " is ") + device.name + "\n";
  }
  return text;
}

bool done(const Result<void>& result) {
  return result.has_value();
}

}  // namespace

TEST_CASE("a token file's lines: with and without a name, for a screen, remarks") {
  const ScratchFolder folder;
  const auto file =
      write(folder, "tokens", "# the shop's\nalpha phone\n\nread-only beta wall\r\ngamma\nread-only delta");
  CHECK(names(read_tokens(file).value()) ==
        "alpha is phone\nbeta looks as wall\ngamma is \ndelta looks as \n");
  CHECK(read_tokens(folder / "none").value().empty());
  CHECK_FALSE(read_tokens(folder / ".").has_value());  // there, and no file
}

TEST_CASE("a new file is its owner's alone, and holds what was added") {
  const ScratchFolder folder;
  const auto file = folder / "tokens";
  REQUIRE(done(add_token(file, {.token = "alpha", .name = "phone"})));
  REQUIRE(done(add_token(file, {.token = "beta", .name = "wall", .read_only = true})));
  CHECK(read(file) == "alpha phone\nread-only beta wall\n");
  struct stat about {};
  REQUIRE(::stat(file.c_str(), &about) == 0);
  CHECK((about.st_mode & 07777U) == 0600U);

  const auto again = add_token(file, {.token = "gamma", .name = "phone"});
  REQUIRE_FALSE(done(again));
  CHECK(again.error().what == "a device \"phone\" is paired already");
  CHECK(read(file) == "alpha phone\nread-only beta wall\n");
}

TEST_CASE("what somebody else put into the file stays, and its rights are narrowed") {
  const ScratchFolder folder;
  const auto file = write(folder, "tokens", "# by hand\nalpha");  // no end of line
  std::filesystem::permissions(file, std::filesystem::perms{0644});
  REQUIRE(done(add_token(file, {.token = "beta", .name = "phone"})));
  CHECK(read(file) == "# by hand\nalpha\nbeta phone\n");
  CHECK(std::filesystem::status(file).permissions() == std::filesystem::perms{0600});
}

TEST_CASE("a device that is withdrawn is out of the file, the others stay") {
  const ScratchFolder folder;
  const auto file = write(folder, "tokens", "# by hand\nalpha phone\nread-only beta wall\n");
  REQUIRE(done(withdraw_token(file, "phone")));
  CHECK(read(file) == "# by hand\nread-only beta wall\n");
  CHECK(std::filesystem::status(file).permissions() == std::filesystem::perms{0600});
  CHECK_FALSE(std::filesystem::exists(folder / "tokens.new"));

  const auto again = withdraw_token(file, "phone");
  REQUIRE_FALSE(done(again));
  CHECK(again.error().what == "no device \"phone\" is paired");
  CHECK_FALSE(done(withdraw_token(folder / "none", "phone")));
}

TEST_CASE("a device that is added while another is withdrawn goes into the file that is left") {
  const ScratchFolder folder;
  const auto file = write(folder, "tokens", "alpha phone\nbeta wall\n");
  // A withdrawal that has its lock and is about to put another file in this one's place.
  const int withdrawing = ::open(file.c_str(), O_RDWR | O_CLOEXEC);
  REQUIRE(::flock(withdrawing, LOCK_EX) == 0);
  std::optional<Result<void>> added;
  std::jthread adding{[&] { added = add_token(file, {.token = "gamma", .name = "tablet"}); }};
  std::this_thread::sleep_for(std::chrono::milliseconds{200});  // it waits for the lock by then
  std::filesystem::rename(write(folder, "tokens.new", "beta wall\n"), file);
  ::close(withdrawing);
  adding.join();
  CHECK(done(added.value()));
  CHECK(read(file) == "beta wall\ngamma tablet\n");
}

TEST_CASE("a file that cannot be opened is told, not thrown") {
  const ScratchFolder folder;
  const auto file = folder / "tokens";
  std::filesystem::create_symlink(file, file);  // leads to itself
  const auto added = add_token(file, {.token = "alpha", .name = "phone"});
  REQUIRE_FALSE(done(added));
  CHECK(added.error().where == file.string());
  CHECK_FALSE(done(withdraw_token(file, "phone")));
  CHECK_FALSE(read_tokens(file).has_value());
}

// RFC 4648 section 5: 32 bytes are 42 letters of six bits and one of four bits, two zero bits behind them.
TEST_CASE("a fresh token is 256 bits of base64url, never twice the same (RFC 4648 section 5)") {
  constexpr std::string_view letters = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_";
  constexpr std::string_view last_letters = "AEIMQUYcgkosw048";
  std::set<std::string> seen;
  std::set<char> used;
  for (int i = 0; i < 200; ++i) {
    const auto token = fresh_token();
    REQUIRE(token.size() == 43);
    CHECK(token.find_first_not_of(letters) == std::string::npos);
    CHECK(last_letters.find(token.back()) != std::string_view::npos);
    CHECK(seen.insert(token).second);
    used.insert(token.begin(), token.end());
  }
  CHECK(used.size() == 64);  // each of 8400 letters is missing with (63/64)^8400 = 3e-58
}

}  // namespace dryclock
