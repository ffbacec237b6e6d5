#include "notify/notifier.hpp"

#include <algorithm>
#include <chrono>
#include <condition_variable>
#include <deque>
#include <mutex>
#include <set>
#include <thread>
#include <utility>

namespace dryclock::notify {

using Steady = ChannelQueue::Steady;

struct Notifier::State {
  // Guarded by `mutex`.
  std::mutex mutex;
  std::condition_variable changed;
  bool woken = false, stopping = false;
  std::set<std::string> recovered;
  std::deque<std::function<void()>> jobs;

  // Of the notify thread.
  std::map<std::string, ChannelQueue> channels;
  std::jthread thread;

  void work();
  void wait_until(Steady::time_point next);
  bool run_jobs();
};

void Notifier::State::work() {
  auto next = Steady::now();
  while (run_jobs()) {
    wait_until(next);
    next = Steady::time_point::max();
    for (auto& [name, channel] : channels) {
      const auto wait = channel.serve(Steady::now(), [this] { return run_jobs(); });
      next = std::min(next, Steady::now() + wait);
    }
  }
}

void Notifier::State::wait_until(Steady::time_point next) {
  std::unique_lock lock(mutex);
  changed.wait_until(lock, next, [this] { return stopping || woken || !recovered.empty() || !jobs.empty(); });
  woken = false;
  for (const auto& name : std::exchange(recovered, {})) {
    if (const auto channel = channels.find(name); channel != channels.end()) {
      channel->second.recovered();
    }
  }
}

// False: the thread is to end.
bool Notifier::State::run_jobs() {
  std::deque<std::function<void()>> due;
  {
    const std::lock_guard lock(mutex);
    if (stopping) {
      return false;
    }
    due.swap(jobs);
  }
  for (const auto& job : due) {
    job();
  }
  return true;
}

Notifier::Notifier(const std::map<std::string, Deliver>& channels, const Outbox& outbox,
                   const std::function<Time()>& now, Backoff backoff)
    : state_(std::make_unique<State>()) {
  for (const auto& [name, deliver] : channels) {
    state_->channels.emplace(name, ChannelQueue(name, deliver, outbox, now, backoff));
  }
}

Notifier::~Notifier() {
  stop();
}

void Notifier::start() {
  state_->thread = std::jthread([state = state_.get()] { state->work(); });
}

void Notifier::wake() {
  {
    const std::lock_guard lock(state_->mutex);
    state_->woken = true;
  }
  state_->changed.notify_one();
}

void Notifier::retry_now(const std::string& channel) {
  {
    const std::lock_guard lock(state_->mutex);
    state_->recovered.insert(channel);
  }
  state_->changed.notify_one();
}

void Notifier::post(std::function<void()> job) {
  {
    const std::lock_guard lock(state_->mutex);
    state_->jobs.push_back(std::move(job));
  }
  state_->changed.notify_one();
}

void Notifier::stop() {
  if (!state_->thread.joinable()) {
    return;
  }
  {
    const std::lock_guard lock(state_->mutex);
    state_->stopping = true;
  }
  state_->changed.notify_one();
  state_->thread.join();
}

}  // namespace dryclock::notify
