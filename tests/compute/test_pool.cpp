#include "compute/pool.hpp"

#include <doctest/doctest.h>

#include <atomic>
#include <condition_variable>
#include <deque>
#include <mutex>
#include <stdexcept>
#include <string>
#include <thread>
#include <vector>

#include "support/eventually.hpp"

namespace dryclock::compute {
namespace {

using test::eventually;

// The thread that wants the answers: runs what is posted when the test says so.
class Mailbox {
 public:
  void post(std::function<void()> work) {
    const std::lock_guard lock(mutex_);
    posted_.push_back(std::move(work));
  }
  [[nodiscard]] std::size_t count() {
    const std::lock_guard lock(mutex_);
    return posted_.size();
  }
  void run() {
    std::deque<std::function<void()>> due;
    {
      const std::lock_guard lock(mutex_);
      due.swap(posted_);
    }
    for (const auto& work : due) {
      work();
    }
  }

 private:
  std::mutex mutex_;
  std::deque<std::function<void()>> posted_;
};

TEST_CASE("answers arrive on the thread that asked, made on another") {
  Mailbox mailbox;
  Pool pool([&](auto work) { mailbox.post(std::move(work)); }, 2);
  std::vector<int> answers;
  std::thread::id done_on;
  std::thread::id made_on;
  for (int i = 0; i < 20; ++i) {
    pool.submit(
        [i, &made_on] {
          if (i == 0) {
            made_on = std::this_thread::get_id();
          }
          return i * i;
        },
        [&](Result<int> answer) {
          done_on = std::this_thread::get_id();
          answers.push_back(answer.value());
        });
  }
  REQUIRE(eventually([&] { return mailbox.count() == 20; }));
  mailbox.run();
  std::sort(answers.begin(), answers.end());
  for (int i = 0; i < 20; ++i) {
    CHECK(answers[static_cast<std::size_t>(i)] == i * i);
  }
  CHECK(done_on == std::this_thread::get_id());
  CHECK(made_on != std::this_thread::get_id());
}

TEST_CASE("jobs start in order") {
  Mailbox mailbox;
  Pool pool([&](auto work) { mailbox.post(std::move(work)); }, 1);
  std::vector<int> started;  // of the pool's one thread
  for (int i = 0; i < 50; ++i) {
    pool.submit(
        [i, &started] {
          started.push_back(i);
          return 0;
        },
        [](const Result<int>&) {});
  }
  REQUIRE(eventually([&] { return mailbox.count() == 50; }));
  CHECK(std::is_sorted(started.begin(), started.end()));
}

TEST_CASE("each job calls back once: with its answer, its problem, or that it was given up") {
  Mailbox mailbox;
  Pool pool([&](auto work) { mailbox.post(std::move(work)); }, 1);
  std::vector<std::string> answers;
  const auto note = [&](const Result<int>& answer) {
    answers.push_back(answer ? std::to_string(*answer) : answer.error().what);
  };
  pool.submit([]() -> int { throw std::runtime_error("no memory"); }, note);
  pool.submit([]() -> Result<int> { throw std::runtime_error("no room"); }, note);
  pool.submit([]() -> Result<int> { return Problem{"no such vehicle", "vehicle"}; }, note);
  pool.submit([] { return 1; }, note);
  REQUIRE(eventually([&] { return mailbox.count() == 4; }));
  mailbox.run();
  CHECK(answers == std::vector<std::string>{"it was given up: no memory", "it was given up: no room",
                                            "no such vehicle", "1"});
}

TEST_CASE("stop waits for what runs and drops what does not") {
  std::atomic<int> ran = 0;
  std::atomic<bool> running = false;
  Pool pool([](const auto&) {}, 1);
  pool.submit(
      [&] {
        running = true;
        std::this_thread::sleep_for(std::chrono::milliseconds{50});
        return ++ran;
      },
      [](const Result<int>&) {});
  for (int i = 0; i < 10; ++i) {
    pool.submit([&] { return ++ran; }, [](const Result<int>&) {});
  }
  REQUIRE(eventually([&] { return running.load(); }));
  pool.stop();
  CHECK(ran == 1);
}

}  // namespace
}  // namespace dryclock::compute
