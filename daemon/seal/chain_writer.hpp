// Writes the seal: takes the journal's rows that no checkpoint covers yet into segments and signs a
// checkpoint over them. A checkpoint counts from the moment its list is in place; what a kill leaves before
// that is written anew by the next try, so that no row is left out and none is sealed twice. Not thread-safe:
// one thread at a time, and one process for each folder.
#pragma once

#include <filesystem>
#include <memory>
#include <optional>
#include <string>

#include "base/result.hpp"
#include "seal/checkpoint.hpp"
#include "seal/streams.hpp"

namespace dryclock::seal {

struct ChainOptions {
  std::filesystem::path database;
  std::filesystem::path folder;  // of the sealed files: <folder of the database>/seal
  std::filesystem::path keys;    // of the private keys, 0700; not in `folder`, which may be copied
  ReadEvent read_event;
  Seq most_rows = 50'000;  // in one checkpoint: bounds the memory where much is to be caught up with
};

class ChainWriter {
 public:
  // Goes on after the last checkpoint; the first start makes folders, salt and the first key.
  // Problem: the database cannot be read or has fewer rows than are sealed, a file of the last checkpoint is
  // damaged, the key that has to sign next is not there.
  [[nodiscard]] static Result<ChainWriter> open(ChainOptions options);
  ChainWriter(ChainWriter&&) noexcept;
  ChainWriter& operator=(ChainWriter&&) noexcept;
  ~ChainWriter();

  // Seals all rows that the journal has now; no checkpoint where there are none. The first checkpoint of a
  // new UTC day hands over to a new key, and the old one is erased. `reason` stands in the checkpoint.
  // Problem: the disk has no room to spare or cannot be written, the database cannot be read; the next call
  // tries again.
  [[nodiscard]] Result<void> seal(Time now, const std::string& reason);

  [[nodiscard]] const std::optional<Sealed>& last() const;  // absent: nothing is sealed yet

 private:
  struct State;
  explicit ChainWriter(std::unique_ptr<State> state);
  std::unique_ptr<State> state_;
};

// The checkpoint with the highest number in a seal's folder; absent: there is none. Problem: it is damaged.
[[nodiscard]] Result<std::optional<Sealed>> last_sealed(const std::filesystem::path& folder);

}  // namespace dryclock::seal
