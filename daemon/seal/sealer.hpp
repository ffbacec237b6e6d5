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
};

// Called on the sealing thread; must return soon and not call back into stop().
struct SealerHooks {
  std::function<void(const Sealed&)> on_sealed;    // a new checkpoint is on disk
  std::function<void(const Problem&)> on_problem;  // it could not be made; the next turn tries again
};

class Sealer {
 public:
  Sealer(SealerOptions options, SealerHooks hooks);
  ~Sealer();  // stop()

  // Problem: as ChainWriter::open tells. The database must be there.
  [[nodiscard]] Result<void> start();
  // Returns at once; all rows that are durable now will be in the checkpoint. Any thread, before stop().
  void seal_now(std::string reason);
  [[nodiscard]] std::optional<Sealed> last_checkpoint() const;  // any thread
  // Seals what is left and ends the thread.
  void stop();

 private:
  struct State;
  std::unique_ptr<State> state_;
};

}  // namespace dryclock::seal
