#include "compute/pool.hpp"

#include <algorithm>
#include <condition_variable>
#include <deque>
#include <exception>
#include <mutex>
#include <string>
#include <thread>
#include <vector>

#include "base/log.hpp"

namespace dryclock::compute {

struct Pool::State {
  std::mutex mutex;
  std::condition_variable wake;
  std::deque<std::function<void()>> queue;
  bool stopping = false;
  std::vector<std::jthread> threads;

  void work();
};

void Pool::State::work() {
  std::unique_lock lock(mutex);
  while (true) {
    wake.wait(lock, [this] { return stopping || !queue.empty(); });
    if (stopping) {
      return;
    }
    const auto job = std::move(queue.front());
    queue.pop_front();
    lock.unlock();
    try {
      job();
    } catch (const std::exception& error) {  // no memory to tell of it
      log::error("an answer was lost: {}", error.what());
    }
    lock.lock();
  }
}

Pool::Pool(std::function<void(std::function<void()>)> post, std::size_t threads)
    : post_(std::move(post)), state_(std::make_unique<State>()) {
  if (threads == 0) {
    threads = std::max<std::size_t>(std::thread::hardware_concurrency(), 2) - 1;
  }
  for (std::size_t i = 0; i < threads; ++i) {
    state_->threads.emplace_back([state = state_.get()] { state->work(); });
  }
}

Problem Pool::given_up(const std::exception& error) {
  log::error("a job was given up: {}", error.what());
  return {std::string{"it was given up: "} + error.what(), {}};
}

Pool::~Pool() {
  stop();
}

void Pool::run(std::function<void()> work) {
  {
    const std::lock_guard lock(state_->mutex);
    state_->queue.push_back(std::move(work));
  }
  state_->wake.notify_one();
}

void Pool::stop() {
  {
    const std::lock_guard lock(state_->mutex);
    state_->stopping = true;
    state_->queue.clear();
  }
  state_->wake.notify_all();
  state_->threads.clear();  // joins
}

}  // namespace dryclock::compute
