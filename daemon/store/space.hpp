// How long the disk will last: a figure for the page and the "disk low" alert.
#pragma once

#include <cstdint>
#include <filesystem>
#include <optional>

#include "base/result.hpp"
#include "store/reader.hpp"

namespace dryclock::store {

struct Space {
  std::int64_t database_bytes = 0;  // file and write-ahead log
  std::int64_t free_bytes = 0;      // of the file system, for an ordinary user
  double rows_per_day = 0.0;        // journal, over its whole extent; 0 while that is under an hour
  // At this rate; absent while the rate is unknown.
  std::optional<double> years_left{};
};

// Problem: the file system cannot be asked.
[[nodiscard]] Result<Space> measure_space(const std::filesystem::path& database, const Extent& journal);

}  // namespace dryclock::store
