#include "notify/notifier.hpp"

#include <doctest/doctest.h>

#include <atomic>
#include <mutex>
#include <thread>

#include "support/eventually.hpp"

namespace dryclock::notify {
namespace {

using namespace std::chrono_literals;
using test::eventually;

// An outbox that several threads use.
class SharedOutbox {
 public:
  void add(const std::string& channel, const std::string& payload) {
    const std::lock_guard lock(mutex_);
    rows_.push_back({.id = ++last_id_,
                     .message = {.channel = channel, .topic = "t", .payload = payload},
                     .attempts = 0,
                     .next_at = {}});
  }
  [[nodiscard]] Outbox view() {
    return {.pending = [this](const std::string& channel, std::size_t) -> Result<std::vector<OutboxRow>> {
              const std::lock_guard lock(mutex_);
              std::vector<OutboxRow> found;
              for (const auto& row : rows_) {
                if (row.message.channel == channel) {
                  found.push_back(row);
                }
              }
              return found;
            },
            .mark =
                [this](const OutboxMark& mark) {
                  const std::lock_guard lock(mutex_);
                  std::erase_if(rows_, [&](const auto& row) {
                    return row.id == mark.id && mark.step != OutboxStep::failed;
                  });
                }};
  }

 private:
  std::mutex mutex_;
  std::int64_t last_id_ = 0;
  std::vector<OutboxRow> rows_;
};

Time now() {
  return from_unix_ms(1'772'366'400'000);
}

TEST_CASE("all deliveries and jobs happen on one thread, which wakes when told") {
  SharedOutbox outbox;
  std::atomic<int> delivered = 0;
  std::atomic<std::thread::id> thread;
  std::atomic<bool> one_thread = true;
  const auto note_thread = [&] {
    auto none = std::thread::id{};
    if (!thread.compare_exchange_strong(none, std::this_thread::get_id()) &&
        none != std::this_thread::get_id()) {
      one_thread = false;
    }
  };
  const Deliver deliver = [&](const Outgoing&) -> Result<void> {
    note_thread();
    ++delivered;
    return {};
  };
  Notifier notifier({{"mail", deliver}, {"mqtt", deliver}}, outbox.view(), &now);
  outbox.add("mail", "before the start");
  notifier.start();
  REQUIRE(eventually([&] { return delivered == 1; }));
  outbox.add("mqtt", "1");
  outbox.add("mail", "2");
  notifier.wake();
  REQUIRE(eventually([&] { return delivered == 3; }));
  std::atomic<bool> ran = false;
  notifier.post([&] {
    note_thread();
    ran = true;
  });
  REQUIRE(eventually([&] { return ran.load(); }));
  notifier.stop();
  CHECK(one_thread);
  CHECK(thread.load() != std::this_thread::get_id());
}

TEST_CASE("a dead channel does not hold up another, and goes on at once when it is back") {
  SharedOutbox outbox;
  std::atomic<bool> up = false;
  std::atomic<int> by_mail = 0;
  std::atomic<int> by_mqtt = 0;
  Notifier notifier({{"mail",
                      [&](const Outgoing&) -> Result<void> {
                        ++by_mail;
                        return {};
                      }},
                     {"mqtt",
                      [&](const Outgoing&) -> Result<void> {
                        if (!up) {
                          return Problem{"not connected", ""};
                        }
                        ++by_mqtt;
                        return {};
                      }}},
                    outbox.view(), &now, {.first_wait = 1h, .longest_wait = 1h});
  for (int i = 0; i < 10; ++i) {
    outbox.add("mqtt", std::to_string(i));
    outbox.add("mail", std::to_string(i));
  }
  notifier.start();
  REQUIRE(eventually([&] { return by_mail == 10; }));
  CHECK(by_mqtt == 0);
  up = true;
  notifier.retry_now("mqtt");
  CHECK(eventually([&] { return by_mqtt == 10; }));
}

TEST_CASE("stop ends after the delivery under way") {
  SharedOutbox outbox;
  std::atomic<int> begun = 0;
  std::atomic<bool> go_on = false;
  Notifier notifier({{"mail",
                      [&](const Outgoing&) -> Result<void> {
                        ++begun;
                        while (!go_on) {
                          std::this_thread::sleep_for(1ms);
                        }
                        return {};
                      }}},
                    outbox.view(), &now);
  outbox.add("mail", "1");
  outbox.add("mail", "2");
  notifier.start();
  REQUIRE(eventually([&] { return begun == 1; }));
  std::jthread stopper([&] { notifier.stop(); });
  std::this_thread::sleep_for(20ms);
  go_on = true;
  stopper.join();
  CHECK(begun == 1);
}

}  // namespace
}  // namespace dryclock::notify
