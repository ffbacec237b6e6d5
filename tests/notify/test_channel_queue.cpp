// Waits and order, on a clock of the test's own.
#include "notify/channel_queue.hpp"

#include <doctest/doctest.h>

namespace dryclock::notify {
namespace {

using namespace std::chrono_literals;

const Time noon = from_unix_ms(1'772'366'400'000);

// An outbox that takes its marks when the test says so, as the real one may be late.
struct FakeOutbox {
  std::vector<OutboxRow> rows;
  std::vector<OutboxMark> marks;                            // not yet in rows
  std::vector<std::pair<std::string, OutboxStep>> settled;  // payload, and what became of it in the end

  void add(std::int64_t id, bool retained = false) {
    rows.push_back(
        {.id = id,
         .message = {.channel = "mail", .topic = "t", .payload = std::to_string(id), .retained = retained},
         .attempts = 0,
         .next_at = {}});
  }
  void settle() {
    for (const auto& mark : marks) {
      if (mark.step == OutboxStep::failed) {
        for (auto& row : rows) {
          if (row.id == mark.id) {
            ++row.attempts;
            row.next_at = mark.next_at;
          }
        }
      } else {
        std::erase_if(rows, [&](const auto& row) { return row.id == mark.id; });
      }
    }
    marks.clear();
  }
  [[nodiscard]] Outbox view() {
    return {.pending = [this](const std::string&, std::size_t limit) -> Result<std::vector<OutboxRow>> {
              auto some = rows;
              some.resize(std::min(limit, rows.size()));
              return some;
            },
            .mark = [this](OutboxMark mark) { marks.push_back(std::move(mark)); },
            .settled = [this](const Outgoing& message,
                              const OutboxMark& mark) { settled.emplace_back(message.payload, mark.step); }};
  }
};

struct Bench {
  FakeOutbox outbox;
  Time wall = noon;
  ChannelQueue::Steady::time_point steady{1h};
  std::vector<std::string> delivered;
  std::function<bool(const Outgoing&)> works = [](const Outgoing&) { return true; };
  int tried = 0;
  Backoff backoff;
  ChannelQueue queue = make_queue();

  // As after a restart: nothing is remembered but what the outbox holds.
  ChannelQueue make_queue() {
    return {"mail",
            [this](const Outgoing& message) -> Result<void> {
              ++tried;
              if (!works(message)) {
                return Problem{"no route", "mail"};
              }
              delivered.push_back(message.payload);
              return {};
            },
            outbox.view(), [this] { return wall; }, backoff};
  }
  Millis serve() {
    return queue.serve(steady, [] { return true; });
  }
  void pass(Millis time) {
    wall += time;
    steady += time;
  }
};

TEST_CASE("messages go out in order, once, though their marks are late") {
  Bench bench;
  for (int id = 1; id <= 3; ++id) {
    bench.outbox.add(id);
  }
  CHECK(bench.serve() > 1s);
  bench.serve();
  CHECK(bench.delivered == std::vector<std::string>{"1", "2", "3"});
  bench.outbox.settle();
  CHECK(bench.outbox.rows.empty());
  bench.outbox.add(4);
  bench.serve();
  CHECK(bench.delivered.size() == 4);
}

TEST_CASE("what became of a message in the end is told once, its failures are not") {
  Bench bench;
  bench.backoff.attempts = 2;
  bench.queue = bench.make_queue();
  bench.outbox.add(1);
  bench.outbox.add(2);
  bench.works = [](const Outgoing& message) { return message.payload == "2"; };
  for (int i = 0; i < 8; ++i) {
    bench.serve();
    bench.outbox.settle();
    bench.pass(10min);
  }
  using Settled = std::vector<std::pair<std::string, OutboxStep>>;
  CHECK(bool{bench.outbox.settled == Settled{{"2", OutboxStep::delivered}, {"1", OutboxStep::given_up}}});
}

TEST_CASE("waits double from one second to ten minutes") {
  Bench bench;
  bench.outbox.add(1);
  bench.works = [](const Outgoing&) { return false; };
  for (const auto expected : {1s, 2s, 4s, 8s, 16s, 32s, 64s, 128s, 256s, 512s, 600s, 600s}) {
    CHECK(bench.serve() == expected);
    bench.outbox.settle();
    CHECK(bench.outbox.rows.at(0).next_at == bench.wall + expected);
    const int tried = bench.tried;
    bench.pass(expected - 1ms);
    CHECK(bench.serve() == 1ms);
    CHECK(bench.tried == tried);
    bench.pass(1ms);
  }
}

TEST_CASE("a wait survives a restart") {
  Bench bench;
  bench.outbox.add(1);
  bench.works = [](const Outgoing&) { return false; };
  for (const auto wait : {1s, 2s, 4s}) {
    CHECK(bench.serve() == wait);
    bench.outbox.settle();
    bench.pass(bench.outbox.rows.at(0).next_at - bench.wall);
  }
  bench.wall -= 1s;
  bench.queue = bench.make_queue();
  CHECK(bench.serve() == 1s);
  CHECK(bench.tried == 3);
  bench.pass(1s);
  bench.serve();
  CHECK(bench.tried == 4);
  bench.outbox.settle();
  CHECK(bench.outbox.rows.at(0).next_at == bench.wall + 8s);
}

TEST_CASE("a dead channel is asked with one message, not with each") {
  Bench bench;
  for (int id = 1; id <= 50; ++id) {
    bench.outbox.add(id);
  }
  bench.works = [](const Outgoing&) { return false; };
  bench.serve();
  CHECK(bench.tried == 1);
  bench.pass(1s);
  bench.serve();
  CHECK(bench.tried == 2);
}

TEST_CASE("one message that is always refused does not hold up those behind it") {
  Bench bench;
  bench.outbox.add(1);
  bench.outbox.add(2);
  bench.outbox.add(3);
  bench.works = [](const Outgoing& message) { return message.payload != "1"; };
  for (int second = 0; second < 10; ++second) {
    bench.serve();
    bench.outbox.settle();
    bench.pass(1s);
  }
  CHECK(bench.delivered == std::vector<std::string>{"2", "3"});
}

TEST_CASE("when the channel works again, no wait counts") {
  Bench bench;
  bench.outbox.add(1);
  bench.outbox.add(2);
  bool up = false;
  bench.works = [&](const Outgoing&) { return up; };
  for (int i = 0; i < 8; ++i) {
    bench.pass(bench.serve());
    bench.outbox.settle();
  }
  bench.wall -= 100s;  // in the middle of a wait
  up = true;
  bench.queue.recovered();
  bench.serve();
  CHECK(bench.delivered == std::vector<std::string>{"1", "2"});
}

TEST_CASE("a message is given up after so many attempts, a retained one never") {
  Bench bench;
  bench.backoff = {.first_wait = 1ms, .longest_wait = 1ms, .attempts = 5};
  bench.queue = bench.make_queue();
  bench.outbox.add(1);
  bench.outbox.add(2, true);
  bench.works = [](const Outgoing&) { return false; };
  for (int i = 0; i < 100; ++i) {
    bench.serve();
    bench.outbox.settle();
    bench.pass(1ms);
  }
  REQUIRE(bench.outbox.rows.size() == 1);
  CHECK(bench.outbox.rows[0].id == 2);
  CHECK(bench.outbox.rows[0].attempts == 95);
}

TEST_CASE("a wall clock that is set back does not keep a message waiting") {
  Bench bench;
  bench.outbox.add(1);
  bool up = false;
  bench.works = [&](const Outgoing&) { return up; };
  bench.serve();
  bench.outbox.settle();
  bench.wall -= 24h;
  bench.steady += 1s;
  up = true;
  bench.serve();
  CHECK(bench.delivered.size() == 1);
}

TEST_CASE("an outbox that cannot be read is asked again later") {
  Bench bench;
  ChannelQueue queue(
      "mail", [](const Outgoing&) -> Result<void> { return {}; },
      {.pending = [](const auto&, auto) -> Result<std::vector<OutboxRow>> {
         return Problem{"locked", ""};
       },
       .mark = [](const auto&) {}},
      [] { return noon; }, {});
  CHECK(queue.serve(bench.steady, [] { return true; }) == 5s);
}

TEST_CASE("it stops between two messages when told to") {
  Bench bench;
  bench.outbox.add(1);
  bench.outbox.add(2);
  int left = 1;
  (void)bench.queue.serve(bench.steady, [&] { return left-- > 0; });
  CHECK(bench.delivered == std::vector<std::string>{"1"});
}

}  // namespace
}  // namespace dryclock::notify
