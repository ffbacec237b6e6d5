// Killed at any moment while rows come and are sealed: no gap, nothing twice, and the chain holds. The kernel
// kills when some processor time is used up, so that a busy machine does not shorten the life. The long form
// runs with DRYCLOCK_LONG=1.
#include <doctest/doctest.h>
#include <signal.h>
#include <sys/time.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <cstdio>
#include <cstdlib>
#include <map>
#include <random>
#include <sstream>
#include <thread>

#include "sealed_shop.hpp"
#include "store/reader.hpp"
#include "store/writer.hpp"

namespace dryclock::seal {
namespace {

[[noreturn]] void give_up(const Problem& why) {
  std::fprintf(stderr, "the shop ended by itself: %s\n", to_string(why).c_str());
  std::_Exit(1);
}

// Each seal is nine hours after the one before, so that most hand over to a new key.
[[noreturn]] void live(const ChainOptions& options, int life, Millis lifetime) {
  auto writer = store::Writer::open({.path = options.database, .ballast_bytes = 0}, {}, {});
  auto chain = ChainWriter::open(options);
  if (!writer || !chain) {
    give_up(!writer ? writer.error() : chain.error());
  }
  itimerval once{};
  once.it_value.tv_usec = std::chrono::microseconds(lifetime).count();
  ::setitimer(ITIMER_PROF, &once, nullptr);
  std::jthread sender([&] {
    for (int i = 0;; ++i) {
      (void)(*writer)->append({.kind = RowKind::message,
                               .message = {.topic = i % 2 == 0 ? "bay/front" : "bay/back",
                                           .payload = "21",
                                           .received_at = evening + std::chrono::minutes{i},
                                           .qos = 1},
                               .key = {}},
                              Millis{10'000});
    }
  });
  for (int turn = 0;; ++turn) {
    const auto done = chain->seal(evening + std::chrono::hours{2000 * life + 9 * turn}, "hourly");
    if (!done) {
      give_up(done.error());
    }
  }
}

// True: the kill ended it, and not a failure of its own.
bool run_and_kill(const ChainOptions& options, int life, Millis lifetime) {
  const pid_t child = ::fork();
  if (child == 0) {
    live(options, life, lifetime);
  }
  int status = 0;
  ::waitpid(child, &status, 0);
  return WIFSIGNALED(status) && WTERMSIG(status) == SIGPROF;
}

std::map<Seq, int> times_sealed(const std::filesystem::path& folder) {
  std::map<Seq, int> times;
  for (const auto& name : files_of(folder / "segments")) {
    std::istringstream text(content(folder / "segments" / name));
    for (std::string line; std::getline(text, line);) {
      ++times[std::stoll(line.substr(std::string_view{"{\"seq\":"}.size()))];
    }
  }
  return times;
}

TEST_CASE("a kill leaves no gap and no double in the seal") {
  const int lives = std::getenv("DRYCLOCK_LONG") != nullptr ? 300 : 12;
  const test::ScratchFolder scratch;
  const ChainOptions options{.database = scratch / "a.db",
                             .folder = scratch / "seal",
                             .keys = scratch / "keys",
                             .read_event = read_event};
  std::minstd_rand random(20260301);
  for (int life = 0; life < lives; ++life) {
    REQUIRE(run_and_kill(options, life, Millis{1 + random() % 60}));
    store::Writer::open({.path = options.database, .ballast_bytes = 0}, {}, {}).value()->stop();
    auto chain = ChainWriter::open(options).value();
    REQUIRE(chain.seal(evening + std::chrono::hours{2000 * (life + 1) - 1}, "start").has_value());
  }
  const auto last = store::Reader::open(options.database).value().extent().value().last;
  const auto report = verify(options.folder, {}).value();
  CHECK(findings(report) == "");
  CHECK(report.rows == last);
  const auto times = times_sealed(options.folder);
  CHECK(times.size() == static_cast<std::size_t>(last));
  CHECK(std::ranges::all_of(times, [](const auto& entry) { return entry.second == 1; }));
  CHECK(files_of(scratch / "keys").size() == 1);
  MESSAGE(lives << " kills, " << report.checkpoints << " checkpoints, " << last << " rows");
  CHECK(report.checkpoints > lives);
}

}  // namespace
}  // namespace dryclock::seal
