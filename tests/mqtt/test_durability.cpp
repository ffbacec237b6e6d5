// No acknowledgement before the message is on disk: the client's process is killed while its sink waits, and
// the next one must get the message again. In a process of its own, forked before any client is made in this
// one.
#include <doctest/doctest.h>
#include <poll.h>
#include <signal.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cstdlib>
#include <fstream>
#include <thread>

#include "mqtt/client.hpp"
#include "support/eventually.hpp"
#include "support/listener.hpp"
#include "support/mosquitto.hpp"
#include "support/process.hpp"
#include "support/scratch_folder.hpp"

namespace dryclock::mqtt {
namespace {

using test::eventually;

// What the broker still holds for the client: its session, taken over by another program.
std::string taken_over(const test::Mosquitto& broker) {
  const test::ScratchFolder folder;
  test::Process heir({"mosquitto_sub", "-p", std::to_string(broker.port()), "-i", "dryclock", "-c", "-q", "1",
                      "-t", "bay/#", "-C", "1", "-W", "10"},
                     folder / "message");
  REQUIRE(heir.wait(std::chrono::seconds{15}) == 0);
  std::string line;
  std::ifstream file(folder / "message");
  std::getline(file, line);
  return line;
}

// Takes what the broker holds for the client until nothing more comes for a second.
void drain(const test::Mosquitto& broker) {
  constexpr int timed_out = 27;  // mosquitto_sub(1), exit status of -W
  test::Process heir({"mosquitto_sub", "-p", std::to_string(broker.port()), "-i", "dryclock", "-c", "-q", "1",
                      "-t", "bay/#", "-W", "1"});
  REQUIRE(heir.wait(std::chrono::seconds{15}) == timed_out);
}

void publish_from_outside(const test::Mosquitto& broker, const std::string& payload) {
  test::Process sensor(
      {"mosquitto_pub", "-p", std::to_string(broker.port()), "-q", "1", "-t", "bay/front", "-m", payload});
  REQUIRE(sensor.wait(std::chrono::seconds{10}) == 0);
}

struct Child {
  pid_t id = -1;
  int pipe = -1;  // one byte for each message that reaches the sink

  [[nodiscard]] bool got_one(Millis within) const {
    pollfd ready{.fd = pipe, .events = POLLIN, .revents = 0};
    char byte = 0;
    return ::poll(&ready, 1, static_cast<int>(within.count())) == 1 && ::read(pipe, &byte, 1) == 1;
  }
  [[nodiscard]] int wait() const {
    int status = 0;
    ::waitpid(id, &status, 0);
    ::close(pipe);
    return WIFSIGNALED(status) ? 128 + WTERMSIG(status) : WEXITSTATUS(status);
  }
};

// A client whose sink tells of each message and then answers as `sink` does.
Child run_client(const test::Mosquitto& broker, bool (*sink)()) {
  int ends[2];
  REQUIRE(::pipe(ends) == 0);
  const pid_t id = ::fork();
  if (id != 0) {
    ::close(ends[1]);
    return {.id = id, .pipe = ends[0]};
  }
  Options options;
  options.port = broker.port();
  Client client(options, {"bay/#"},
                {.now = [] { return Time{}; },
                 .sink =
                     [&](const RawMessage&) {
                       (void)!::write(ends[1], "x", 1);
                       return sink();
                     },
                 .connection_changed = {}});
  if (!client.start() || !eventually([&] { return client.connected(); })) {
    std::_Exit(99);
  }
  while (true) {
    (void)client.announce(Millis{2'000});
    ::pause();
  }
}

bool keep() {
  return true;
}
bool hang() {
  std::this_thread::sleep_for(std::chrono::hours{1});
  return false;
}
bool refuse() {
  return false;
}

// Subscribes and leaves, so that the broker keeps what comes from now on. The kill may come before a probe
// was acknowledged, and the broker then rightly keeps it: it is taken away, so that what a test sends is
// alone.
void make_session(const test::Mosquitto& broker) {
  const auto first = run_client(broker, &keep);
  const bool subscribed = eventually([&] {
    publish_from_outside(broker, "probe");
    return first.got_one(Millis{200});
  });
  ::kill(first.id, SIGKILL);
  (void)first.wait();
  REQUIRE(subscribed);
  drain(broker);
}

TEST_CASE("a client killed before its sink has answered has acknowledged nothing") {
  const test::Mosquitto broker;
  make_session(broker);
  publish_from_outside(broker, "precious");
  for (int life = 0; life < 2; ++life) {
    const auto hanging = run_client(broker, &hang);
    CHECK(hanging.got_one(Millis{10'000}));
    ::kill(hanging.id, SIGKILL);
    (void)hanging.wait();
  }
  CHECK(taken_over(broker) == "precious");
}

TEST_CASE("the broker says offline when the process is killed") {
  const test::Mosquitto broker;
  const test::Listener listener(broker.port(), "dryclock/status");
  const auto client = run_client(broker, &keep);
  REQUIRE(eventually([&] { return listener.lines().size() == 1; }));
  ::kill(client.id, SIGKILL);
  CHECK(client.wait() == 128 + SIGKILL);
  REQUIRE(eventually([&] { return listener.lines().size() == 2; }));
  CHECK(listener.lines() == std::vector<std::string>{"dryclock/status online", "dryclock/status offline"});
}

TEST_CASE("a sink that never manages ends the process without an acknowledgement (40 s)") {
  if (std::getenv("DRYCLOCK_LONG") == nullptr) {
    MESSAGE("skipped: runs with DRYCLOCK_LONG=1");
    return;
  }
  const test::Mosquitto broker;
  make_session(broker);
  publish_from_outside(broker, "precious");
  const auto refusing = run_client(broker, &refuse);
  const auto started = std::chrono::steady_clock::now();
  CHECK(refusing.wait() == 1);
  const auto took = std::chrono::steady_clock::now() - started;
  CHECK(took > std::chrono::seconds{35});
  CHECK(took < std::chrono::seconds{60});
  CHECK(taken_over(broker) == "precious");
}

}  // namespace
}  // namespace dryclock::mqtt
