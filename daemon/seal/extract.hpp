// A copy of the part of a seal that a record needs: the segments of some streams, and the whole chain of
// checkpoints that shows them to be the sealed ones. Other streams are withheld; their row counts stay
// visible, their names do not.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "base/result.hpp"
#include "seal/checkpoint.hpp"
#include "seal/streams.hpp"

namespace dryclock::seal {

// The names of withheld segments, sorted, one a line.
inline constexpr const char* withheld_file = "WITHHELD";
inline constexpr const char* recipe_file = "VERIFY.txt";

struct Wanted {
  std::vector<std::string> streams;  // by topic_stream() and its like
  Rows rows;                         // of these streams; history::Dates::first_at_or_after() finds them
  // Checkpoints up to this one; 0: all. The same number gives the same bytes for ever, but for time stamps
  // that came later.
  std::int64_t through = 0;
};

struct Extracted {
  std::size_t segments = 0, withheld = 0, stamps = 0;
  // In the segments: whole ones are given, so some from before and after `Wanted::rows`.
  std::int64_t rows = 0;
  std::string key_sha256;  // of the first public key's file: the root of trust
  Sealed last;
};

// `destination` is made; it must be empty or not there. Problem: nothing is sealed yet, the rows wanted are
// not all sealed, a file cannot be read or written. What the seal holds is copied as it is: verify() judges.
[[nodiscard]] Result<Extracted> extract(const std::filesystem::path& seal,
                                        const std::filesystem::path& destination, const Wanted& wanted);

}  // namespace dryclock::seal
