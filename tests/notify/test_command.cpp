#include <doctest/doctest.h>
#include <pthread.h>
#include <signal.h>

#include <fstream>
#include <sstream>
#include <thread>

#include "notify/channels.hpp"
#include "support/eventually.hpp"
#include "support/scratch_folder.hpp"

namespace dryclock::notify {
namespace {

const Outgoing siren_message{.channel = "siren", .topic = "bay \"cold\"", .payload = "12 C; $(touch here)"};

std::string read(const std::filesystem::path& path) {
  std::ostringstream text;
  text << std::ifstream(path).rdbuf();
  return text.str();
}

Result<void> run(std::vector<std::string> arguments, Millis time_out = Millis{10'000}) {
  return make_deliver(Command{.arguments = std::move(arguments), .time_out = time_out})(siren_message);
}

TEST_CASE("the payload is on its standard input, the topic in its environment") {
  const test::ScratchFolder folder;
  const std::string out = folder / "out";
  REQUIRE(run({"sh", "-c", "cat >\"$0\"; printf '|%s' \"$DRYCLOCK_TOPIC\" >>\"$0\"", out}).has_value());
  CHECK(read(out) == "12 C; $(touch here)|bay \"cold\"");
}

TEST_CASE("a payload of any size does not hang a program that does not read") {
  auto big = siren_message;
  big.payload = std::string(4 * 1024 * 1024, 'x');
  CHECK(make_deliver(Command{.arguments = {"true"}})(big).has_value());
}

TEST_CASE("no shell stands between") {
  const test::ScratchFolder folder;
  const auto trap = (folder / "trap").string();
  REQUIRE(run({"echo", "$(touch " + trap + ")", ";", "touch", trap}).has_value());
  CHECK_FALSE(std::filesystem::exists(trap));
}

TEST_CASE("an exit code, a signal and a missing program are problems") {
  const auto code = run({"sh", "-c", "exit 3"});
  REQUIRE_FALSE(code.has_value());
  CHECK(code.error().what == "it ended with 3");
  const auto signal = run({"sh", "-c", "kill -TERM $$"});
  REQUIRE_FALSE(signal.has_value());
  CHECK(signal.error().what == "it was ended by signal 15");
  const auto missing = run({"/no/such/program"});
  REQUIRE_FALSE(missing.has_value());
  CHECK(missing.error().where == "/no/such/program");
}

TEST_CASE("a signal that reaches the waiting thread cuts nothing short") {
  struct sigaction nothing {};
  nothing.sa_handler = [](int) {};
  struct sigaction before {};
  REQUIRE(::sigaction(SIGUSR1, &nothing, &before) == 0);
  const auto waiting = ::pthread_self();
  {
    std::jthread other([waiting](const std::stop_token& stop) {
      while (!stop.stop_requested()) {
        ::pthread_kill(waiting, SIGUSR1);
        std::this_thread::sleep_for(std::chrono::milliseconds{20});
      }
    });
    CHECK(run({"sleep", "0.3"}).has_value());
  }
  ::sigaction(SIGUSR1, &before, nullptr);
}

TEST_CASE("what takes too long is killed, its children too") {
  const test::ScratchFolder folder;
  const std::string id = folder / "id";
  const auto answer = run({"sh", "-c", "sleep 100 & echo $! >\"$0\"; wait", id}, Millis{500});
  REQUIRE_FALSE(answer.has_value());
  CHECK(answer.error().what == "it took too long and was killed");
  auto child = read(id);
  REQUIRE_FALSE(child.empty());
  child.pop_back();
  // Gone, or not yet collected by whoever adopted it.
  CHECK(test::eventually([&] {
    const auto state = read("/proc/" + child + "/stat");
    return state.empty() || state.find(") Z") != std::string::npos;
  }));
}

}  // namespace
}  // namespace dryclock::notify
