// Seals the journal on a thread of its own, over a read-only connection of its own: at the start, every hour,
// at the first moment of each UTC day, when it is asked, and at the stop. Ingest never waits for it.
#pragma once

#include <filesystem>
#include <functional>
#include <memory>
#include <optional>
#include <string>

#include "base/result.hpp"
#include "seal/chain_writer.hpp"

namespace dryclock::seal {

struct SealerOptions {
  ChainOptions chain;
  std::function<Time()> now;
  Millis every = std::chrono::hours{1};
  Millis retry = std::chrono::minutes{1};  // after what went wrong
  // Sends a query to a time stamping authority (RFC 3161) and returns its answer; empty: none is asked.
  std::function<Result<std::string>(const std::string& query)> time_stamp{};
};

// Called on the sealing thread; must return soon and not call back into stop().
struct SealerHooks {
  std::function<void(const Sealed&)> on_sealed{};    // a new checkpoint is on disk
  std::function<void(const Problem&)> on_problem{};  // the seal cannot be opened, or a checkpoint not be made
  std::function<void()> on_well{};                   // after a problem: all that there is is sealed
  std::function<void(const std::optional<Problem>&)> on_stamp{};  // given, or why not
};

class Sealer {
 public:
  Sealer(SealerOptions options, SealerHooks hooks);
  ~Sealer();  // stop()

  // What cannot be opened is tried again until it can: see on_problem.
  void start();
  // Returns at once; all rows that are durable now will be in the checkpoint. Any thread, before stop().
  void seal_now(std::string reason);
  // Calls `then` once: as soon as a checkpoint covers `row`, or when the try that this asks for, with the
  // reason "record", has ended without one, or at the stop; what is so is in last_checkpoint(). On the
  // sealing thread (as the hooks), or on the caller's before it returns where there is nothing to wait for.
  // Any thread.
  void when_sealed(Seq row, std::function<void()> then);
  [[nodiscard]] std::optional<Sealed> last_checkpoint() const;  // any thread
  [[nodiscard]] std::int64_t bytes() const;                     // of the sealed files; any thread
  // Seals what is left and ends the thread.
  void stop();

 private:
  struct State;
  std::unique_ptr<State> state_;
};

}  // namespace dryclock::seal
