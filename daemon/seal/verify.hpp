// Judges a seal, or an extract of one, from its files alone.
#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "base/problem.hpp"
#include "base/result.hpp"
#include "seal/checkpoint.hpp"

namespace dryclock::seal {

struct Trust {                              // what is known from outside the folder; empty: not known
  std::string anchor;                       // SHA-256 of a checkpoint's list, as printed on a receipt
  std::string key_sha256;                   // of the first public key's file
  std::filesystem::path stamp_authority{};  // certificates that time stamps are checked against
};
struct Stamp {
  std::int64_t number = 0;  // of its checkpoint
  Time at;
};

struct Report {
  // What is wrong, in the order of the checkpoints: `where` is the file. Empty: all that is here is as it was
  // sealed.
  std::vector<Problem> findings;
  std::int64_t checkpoints = 0;
  std::size_t segments = 0, withheld = 0;
  std::int64_t rows = 0;  // in the segments that are here
  std::string key_sha256;
  std::vector<std::int64_t> set_back;  // checkpoints that say an earlier time than the one before
  std::optional<Sealed> last;
  // Over the checkpoints that are here; who signed them is checked with Trust alone.
  std::vector<Stamp> stamps;
};

// Problem: the folder cannot be read, or holds no checkpoint at all.
[[nodiscard]] Result<Report> verify(const std::filesystem::path& folder, const Trust& trust);

}  // namespace dryclock::seal
