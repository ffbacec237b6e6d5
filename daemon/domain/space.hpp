// How long the disk will last.
#pragma once

#include <cstdint>
#include <optional>

#include "domain/field.hpp"

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
void visit_fields(auto& f, Of<Space> auto& s) {
  f.type("Space", "on the disk with the journal");
  f("database_bytes", s.database_bytes, AtLeast{0});
  f("seal_bytes", s.seal_bytes, AtLeast{0});
  f("free_bytes", s.free_bytes, AtLeast{0});
  f("rows_per_day", s.rows_per_day);
  f("bytes_per_day", s.bytes_per_day);
  f("years_left", s.years_left, "at this rate; null while it is unknown");
}

}  // namespace dryclock
