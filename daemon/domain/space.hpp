// How long the disk will last.
#pragma once

#include <cstdint>
#include <optional>

namespace dryclock {

struct Space {
  std::int64_t database_bytes = 0;  // file and write-ahead log
  std::int64_t seal_bytes = 0;      // sealed files
  std::int64_t free_bytes = 0;      // of the file system, for an ordinary user
  // Over the last days; 0 while that is under an hour.
  double rows_per_day = 0.0;           // of the journal
  double bytes_per_day = 0.0;          // of database and seal
  std::optional<double> years_left{};  // at this rate; absent while the rate is unknown
};

}  // namespace dryclock
