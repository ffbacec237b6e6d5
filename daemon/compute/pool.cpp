#include "compute/pool.hpp"

#include <algorithm>
#include <condition_variable>
#include <deque>
#include <exception>
#include <mutex>
#include <stop_token>
#include <string>
#include <thread>
#include <vector>

#include "base/log.hpp"

namespace dryclock::compute {

struct Pool::State {
  std::mutex mutex;
  std::condition_variable_any wake;
  std::deque<std::function<void()>> queue;
  std::vector<std::jthread> threads;

  void work(const std::stop_token& stop);
};

void Pool::State::work(const std::stop_token& stop) {
  std::unique_lock lock(mutex);
  while (wake.wait(lock, stop, [this] { return !queue.empty(); }) && !stop.stop_requested()) {
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
    state_->threads.emplace_back([state = state_.get()](const std::stop_token& stop) { state->work(stop); });
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
  for (auto& thread : state_->threads) {
    thread.request_stop();
  }
  {
    const std::lock_guard lock(state_->mutex);
    state_->queue.clear();
  }
  state_->threads.clear();  // joined
}

}  // namespace dryclock::compute
