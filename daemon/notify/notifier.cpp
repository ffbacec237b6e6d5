#include "notify/notifier.hpp"

#include <algorithm>
#include <chrono>
#include <condition_variable>
#include <deque>
#include <mutex>
#include <set>
#include <stop_token>
#include <thread>
#include <utility>

namespace dryclock::notify {

using Steady = ChannelQueue::Steady;

struct Notifier::State {
  // Guarded by `mutex`.
  std::mutex mutex;
  std::condition_variable_any changed;
  bool woken = false;
  std::set<std::string> recovered;
  std::deque<std::function<void()>> jobs;

  // Of the notify thread.
  std::map<std::string, ChannelQueue> channels;
  std::jthread thread;

  void work(const std::stop_token& stop);
  void wait_until(Steady::time_point next, const std::stop_token& stop);
  bool run_jobs(const std::stop_token& stop);
};

void Notifier::State::work(const std::stop_token& stop) {
  auto next = Steady::now();
  while (run_jobs(stop)) {
    wait_until(next, stop);
    next = Steady::time_point::max();
    for (auto& [name, channel] : channels) {
      const auto wait = channel.serve(Steady::now(), [&] { return run_jobs(stop); });
      next = std::min(next, Steady::now() + wait);
    }
  }
}

void Notifier::State::wait_until(Steady::time_point next, const std::stop_token& stop) {
  std::unique_lock lock(mutex);
  changed.wait_until(lock, stop, next, [this] { return woken || !recovered.empty() || !jobs.empty(); });
  woken = false;
  for (const auto& name : std::exchange(recovered, {})) {
    if (const auto channel = channels.find(name); channel != channels.end()) {
      channel->second.recovered();
    }
  }
}

// False: the thread is to end.
bool Notifier::State::run_jobs(const std::stop_token& stop) {
  if (stop.stop_requested()) {
    return false;
  }
  std::deque<std::function<void()>> due;
  {
    const std::lock_guard lock(mutex);
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
  state_->thread = std::jthread([state = state_.get()](const std::stop_token& stop) { state->work(stop); });
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
  state_->thread = {};  // stopped and joined
}

}  // namespace dryclock::notify
