#include "seal/sealer.hpp"

#include <algorithm>
#include <chrono>
#include <condition_variable>
#include <mutex>
#include <thread>

#include "base/log.hpp"

namespace dryclock::seal {

using Steady = std::chrono::steady_clock;

struct Sealer::State {
  State(SealerOptions o, SealerHooks h) : options(std::move(o)), hooks(std::move(h)) {}

  const SealerOptions options;
  const SealerHooks hooks;

  // Guarded by `mutex`.
  mutable std::mutex mutex;
  std::condition_variable wake;
  std::optional<std::string> asked;  // why; several wishes are one checkpoint
  std::optional<Sealed> last;
  bool stopping = false;

  // Of the sealing thread, once it runs.
  std::optional<ChainWriter> chain;
  std::jthread thread;

  void work();
  void seal(const std::string& reason);
  [[nodiscard]] Millis until_next_turn() const;
};

// An hour, or less where the UTC day ends before: its key ends with it.
Millis Sealer::State::until_next_turn() const {
  const auto now = options.now();
  const auto midnight = std::chrono::ceil<std::chrono::days>(now + Millis{1});
  return std::min(options.every, std::chrono::duration_cast<Millis>(midnight - now));
}

void Sealer::State::work() {
  std::string reason = "start";
  std::unique_lock lock(mutex);
  while (true) {
    const bool final_turn = stopping;
    lock.unlock();
    seal(reason);
    const auto due = Steady::now() + until_next_turn();
    lock.lock();
    if (final_turn) {
      return;
    }
    wake.wait_until(lock, due, [this] { return stopping || asked; });
    reason = std::exchange(asked, std::nullopt).value_or(stopping ? "stop" : "hourly");
  }
}

void Sealer::State::seal(const std::string& reason) {
  const auto before = chain->last() ? chain->last()->number : 0;
  const auto done = chain->seal(options.now(), reason);
  const auto& now = chain->last();
  if (now && now->number > before) {
    {
      const std::lock_guard lock(mutex);
      last = now;
    }
    if (hooks.on_sealed) {
      hooks.on_sealed(*now);
    }
  }
  if (!done) {
    log::error("seal: {}", to_string(done.error()));
    if (hooks.on_problem) {
      hooks.on_problem(done.error());
    }
  }
}

Sealer::Sealer(SealerOptions options, SealerHooks hooks)
    : state_(std::make_unique<State>(std::move(options), std::move(hooks))) {}

Sealer::~Sealer() {
  stop();
}

Result<void> Sealer::start() {
  auto opened = ChainWriter::open(state_->options.chain);
  if (!opened) {
    return opened.error();
  }
  state_->chain = std::move(*opened);
  state_->last = state_->chain->last();
  state_->thread = std::jthread([state = state_.get()] { state->work(); });
  return {};
}

void Sealer::seal_now(std::string reason) {
  {
    const std::lock_guard lock(state_->mutex);
    state_->asked = state_->asked ? *state_->asked + "; " + reason : std::move(reason);
  }
  state_->wake.notify_one();
}

std::optional<Sealed> Sealer::last_checkpoint() const {
  const std::lock_guard lock(state_->mutex);
  return state_->last;
}

void Sealer::stop() {
  if (!state_->thread.joinable()) {
    return;
  }
  {
    const std::lock_guard lock(state_->mutex);
    state_->stopping = true;
  }
  state_->wake.notify_one();
  state_->thread.join();
}

}  // namespace dryclock::seal
