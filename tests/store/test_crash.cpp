// kill -9 at any moment: nothing that was acknowledged is lost, and effects are never without their row.
// The long form runs with DRYCLOCK_LONG=1. (A power cut asks more of the disk than a kill can show.)
#include <doctest/doctest.h>
#include <signal.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cstdlib>
#include <iterator>
#include <random>
#include <thread>

#include "rows.hpp"
#include "support/scratch_folder.hpp"

namespace dryclock::store {
namespace {

struct Acknowledged {
  Seq seq = 0;
  int sender = 0;
  int number = 0;
};

std::string payload_of(int life, int sender, int number) {
  return std::to_string(life) + "/" + std::to_string(sender) + "/" + std::to_string(number);
}

// Two threads that append and tell of each row that is on disk, and effects that follow from the rows.
[[noreturn]] void live(const std::filesystem::path& path, int life, int pipe) {
  auto* writer_slot = new std::unique_ptr<Writer>;  // never destroyed: this process is killed
  std::atomic<Writer*> writer = nullptr;
  *writer_slot =
      open_writer(path, {.on_rows =
                             [&writer](const std::vector<JournalRow>& rows) {
                               Effects effects;
                               effects.applied = rows.back().seq;
                               for (const auto& row : rows) {
                                 effects.readings.push_back(reading(row.seq, 20.0, noon + Millis{row.seq}));
                               }
                               writer.load()->commit(std::move(effects));
                             },
                         .on_outbox = {},
                         .on_health = {}});
  writer = writer_slot->get();
  const auto send = [&](int sender) {
    for (int number = 0;; ++number) {
      const auto appended = writer.load()->append(message(payload_of(life, sender, number)), cap);
      if (appended) {
        const Acknowledged row{.seq = appended->seq, .sender = sender, .number = number};
        (void)!::write(pipe, &row, sizeof row);
      }
    }
  };
  std::jthread other([&] { send(1); });
  send(0);
  std::_Exit(0);
}

std::vector<Acknowledged> run_and_kill(const std::filesystem::path& path, int life, Millis lifetime) {
  int ends[2];
  REQUIRE(::pipe(ends) == 0);
  const pid_t child = ::fork();
  if (child == 0) {
    ::close(ends[0]);
    live(path, life, ends[1]);
  }
  ::close(ends[1]);
  std::jthread killer([child, lifetime] {
    std::this_thread::sleep_for(lifetime);
    ::kill(child, SIGKILL);
  });
  std::vector<Acknowledged> out;
  Acknowledged one;
  while (::read(ends[0], &one, sizeof one) == static_cast<ssize_t>(sizeof one)) {
    out.push_back(one);
  }
  ::close(ends[0]);
  ::waitpid(child, nullptr, 0);
  return out;
}

TEST_CASE("a kill loses nothing that was acknowledged") {
  const bool is_long = std::getenv("DRYCLOCK_LONG") != nullptr;
  const int lives = is_long ? 200 : 8;
  const test::ScratchFolder folder;
  const auto path = folder / "a.db";
  std::minstd_rand random(20260301);
  std::size_t acknowledged = 0;
  for (int life = 0; life < lives; ++life) {
    const auto rows = run_and_kill(path, life, Millis{100 + random() % 300});
    acknowledged += rows.size();
    open_writer(path)->stop();  // recovers the write-ahead log
    const auto reader = open_reader(path);
    for (const auto& row : rows) {
      CHECK(row_of(reader, row.seq).message.payload == payload_of(life, row.sender, row.number));
    }
    const auto applied = reader.applied().value();
    const auto journal = rows_in(path, "journal");
    CHECK(applied <= reader.extent().value().last);
    CHECK(journal == reader.extent().value().last);
    // Effects of rows that were on disk but not committed with a kill are left to the next replay: here, to
    // nobody.
    CHECK(rows_in(path, "reading") <= journal);
    if (applied > 0) {
      const auto at = noon + Millis{applied};
      CHECK(reader.readings("front-air", Quantity::air_temperature, at - Millis{1}, at).value().size() == 1);
    }
  }
  MESSAGE(lives << " kills, " << acknowledged << " rows acknowledged, none lost");
  CHECK(acknowledged > 0);
}

}  // namespace
}  // namespace dryclock::store
