#include "seal/sealer.hpp"

#include <sys/stat.h>

#include <algorithm>
#include <chrono>
#include <condition_variable>
#include <iterator>
#include <mutex>
#include <stdexcept>
#include <stop_token>
#include <thread>
#include <utility>
#include <vector>

#include "base/log.hpp"
#include "seal/durable_file.hpp"
#include "seal/time_stamp.hpp"

namespace dryclock::seal {
namespace {

namespace fs = std::filesystem;

// What a file takes of the disk: most of these are smaller than a block of it.
std::int64_t bytes_of(const fs::path& file) {
  constexpr std::int64_t block = 512;  // of st_blocks: POSIX <sys/stat.h>, Linux
  struct stat found {};
  return ::stat(file.c_str(), &found) == 0 ? block * std::int64_t{found.st_blocks} : 0;
}

// Once, at the start; later each checkpoint adds its own.
std::int64_t bytes_in(const fs::path& folder) {
  std::int64_t sum = 0;
  std::error_code ignored;
  for (const auto& entry : fs::recursive_directory_iterator(folder, ignored)) {
    sum += entry.is_regular_file(ignored) ? bytes_of(entry.path()) : 0;
  }
  return sum;
}

std::int64_t bytes_of_checkpoint(const fs::path& folder, std::int64_t number) {
  std::int64_t sum = bytes_of(folder / list_name(number)) + bytes_of(folder / signature_name(number));
  const auto list = parse_list(read_if_there(folder / list_name(number)).value_or(""));
  for (const auto& line : list ? *list : List{}) {
    sum += line.name.ends_with(".sha256") ? 0 : bytes_of(folder / line.name);  // the one before is counted
  }
  return sum;
}

Result<void> make_stamp(const fs::path& folder, const Sealed& sealed,
                        const std::function<Result<std::string>(const std::string&)>& ask) {
  try {
    const auto query = time_stamp_query(read_whole(folder / sealed.name));
    const auto answer = ask(query);
    if (!answer) {
      return answer.error();
    }
    if (auto granted = check_granted(query, *answer); !granted) {
      return granted;
    }
    write_durably(folder / stamp_name(sealed.number), *answer, folder / "tmp" / "file");
    return {};
  } catch (const std::runtime_error& error) {
    return Problem{error.what(), sealed.name};
  }
}

}  // namespace

using Steady = std::chrono::steady_clock;

struct Sealer::State {
  State(SealerOptions o, SealerHooks h) : options(std::move(o)), hooks(std::move(h)) {}

  const SealerOptions options;
  const SealerHooks hooks;

  // Guarded by `mutex`.
  mutable std::mutex mutex;
  std::condition_variable_any wake;
  std::optional<std::string> asked;  // why; several wishes are one checkpoint
  std::optional<Sealed> last;
  std::int64_t bytes = 0;
  struct Wait {
    Seq row;
    std::function<void()> then;
    bool tried = false;  // the try that runs, or one before it, began after this was asked
  };
  std::vector<Wait> waiting;
  bool ended = false;  // no try will come any more

  // Of the sealing thread, once it runs.
  std::optional<ChainWriter> chain;
  bool failing = false;
  std::jthread thread;

  void work(const std::stop_token& stop);
  [[nodiscard]] Result<void> turn(const std::string& reason);
  [[nodiscard]] Result<void> open();
  void learn(std::int64_t before, const Sealed& now);
  void stamp(const Sealed& sealed);
  void tell(const Result<void>& done);
  [[nodiscard]] bool covers(Seq row) const { return last && last->seq >= row; }
  void ask(std::string why) { asked = asked ? *asked + "; " + why : std::move(why); }
  void release(bool at_end);
  [[nodiscard]] Millis until_next_turn() const;
};

// An hour, or less where the UTC day ends before: its key ends with it.
Millis Sealer::State::until_next_turn() const {
  const auto now = options.now();
  const auto midnight = std::chrono::ceil<std::chrono::days>(now + Millis{1});
  return std::min(failing ? options.retry : options.every,
                  std::chrono::duration_cast<Millis>(midnight - now));
}

void Sealer::State::work(const std::stop_token& stop) {
  std::string reason = "start";
  bool final_turn = stop.stop_requested();
  std::unique_lock lock(mutex);
  while (true) {
    for (auto& wait : waiting) {
      wait.tried = true;
    }
    lock.unlock();
    const auto before = chain && chain->last() ? chain->last()->number : 0;
    tell(turn(reason));
    release(final_turn);
    if (chain && chain->last() && chain->last()->number > before && !final_turn) {
      stamp(*chain->last());
    }
    const auto due = Steady::now() + until_next_turn();
    lock.lock();
    if (final_turn) {
      return;
    }
    wake.wait_until(lock, stop, due, [this] { return asked.has_value(); });
    final_turn = stop.stop_requested();
    reason = std::exchange(asked, std::nullopt).value_or(final_turn ? "stop" : "hourly");
  }
}

// Those who came while this try ran wait for the next one: it may have read the journal before their row was
// there. Called without the lock, since a callback may ask again.
void Sealer::State::release(bool at_end) {
  std::vector<Wait> over;
  {
    const std::lock_guard lock(mutex);
    ended = ended || at_end;
    const auto first = std::stable_partition(waiting.begin(), waiting.end(), [this](const Wait& wait) {
      return !ended && !wait.tried && !covers(wait.row);
    });
    over.assign(std::make_move_iterator(first), std::make_move_iterator(waiting.end()));
    waiting.erase(first, waiting.end());
  }
  for (const auto& wait : over) {
    wait.then();
  }
}

Result<void> Sealer::State::open() {
  auto opened = ChainWriter::open(options.chain);
  if (!opened) {
    return opened.error();
  }
  chain = std::move(*opened);
  const auto size = bytes_in(options.chain.folder);
  const std::lock_guard lock(mutex);
  last = chain->last();
  bytes = size;
  return {};
}

Result<void> Sealer::State::turn(const std::string& reason) {
  if (!chain) {
    if (auto opened = open(); !opened) {
      return opened;
    }
  }
  const auto before = chain->last() ? chain->last()->number : 0;
  auto done = chain->seal(options.now(), reason);
  if (const auto& now = chain->last(); now && now->number > before) {
    learn(before, *now);
  }
  return done;
}

void Sealer::State::learn(std::int64_t before, const Sealed& now) {
  std::int64_t added = 0;
  for (auto number = before + 1; number <= now.number; ++number) {
    added += bytes_of_checkpoint(options.chain.folder, number);
  }
  {
    const std::lock_guard lock(mutex);
    last = now;
    bytes += added;
  }
  if (hooks.on_sealed) {
    hooks.on_sealed(now);
  }
}

void Sealer::State::stamp(const Sealed& sealed) {
  if (!options.time_stamp) {
    return;
  }
  auto done = make_stamp(options.chain.folder, sealed, options.time_stamp);
  if (!done) {
    log::warning("seal: checkpoint {} has no time stamp: {}", sealed.number, to_string(done.error()));
  }
  if (hooks.on_stamp) {
    hooks.on_stamp(done ? std::nullopt : std::optional{done.error()});
  }
}

void Sealer::State::tell(const Result<void>& done) {
  if (!done) {
    log::error("seal: {}", to_string(done.error()));
    if (hooks.on_problem) {
      hooks.on_problem(done.error());
    }
  } else if (failing && hooks.on_well) {
    hooks.on_well();
  }
  failing = !done.has_value();
}

Sealer::Sealer(SealerOptions options, SealerHooks hooks)
    : state_(std::make_unique<State>(std::move(options), std::move(hooks))) {}

Sealer::~Sealer() {
  stop();
}

void Sealer::start() {
  state_->thread = std::jthread([state = state_.get()](const std::stop_token& stop) { state->work(stop); });
}

std::int64_t Sealer::bytes() const {
  const std::lock_guard lock(state_->mutex);
  return state_->bytes;
}

void Sealer::seal_now(std::string reason) {
  {
    const std::lock_guard lock(state_->mutex);
    state_->ask(std::move(reason));
  }
  state_->wake.notify_one();
}

void Sealer::when_sealed(Seq row, std::function<void()> then) {
  {
    const std::lock_guard lock(state_->mutex);
    if (!state_->ended && !state_->covers(row)) {
      state_->waiting.push_back({row, std::exchange(then, nullptr)});
      state_->ask("record");
    }
  }
  if (then) {
    return then();
  }
  state_->wake.notify_one();
}

std::optional<Sealed> Sealer::last_checkpoint() const {
  const std::lock_guard lock(state_->mutex);
  return state_->last;
}

void Sealer::stop() {
  state_->thread = {};    // stopped and joined
  state_->release(true);  // it may never have been started
}

}  // namespace dryclock::seal
