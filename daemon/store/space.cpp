#include "store/space.hpp"

#include <system_error>

namespace dryclock::store {
namespace {

constexpr double day_s = 86'400.0;

std::int64_t size_or_zero(const std::filesystem::path& path) {
  std::error_code missing;
  const auto size = std::filesystem::file_size(path, missing);
  return missing ? 0 : static_cast<std::int64_t>(size);
}

}  // namespace

Result<Space> measure_space(const std::filesystem::path& database, const Extent& journal,
                            const Extent& recent, std::int64_t seal_bytes) {
  std::error_code error;
  const auto disk = std::filesystem::space(std::filesystem::absolute(database).parent_path(), error);
  if (error) {
    return Problem{error.message(), database.string()};
  }
  Space space{.database_bytes = size_or_zero(database) + size_or_zero(database.string() + "-wal"),
              .seal_bytes = seal_bytes,
              .free_bytes = static_cast<std::int64_t>(disk.available)};
  const double days = seconds_between(recent.first_at, recent.last_at) / day_s;
  if (journal.last > 0 && days >= 1.0 / 24.0) {
    space.rows_per_day = static_cast<double>(recent.last - recent.first + 1) / days;
    const double bytes_a_row = static_cast<double>(space.database_bytes + seal_bytes) /
                               static_cast<double>(journal.last - journal.first + 1);
    space.bytes_per_day = space.rows_per_day * bytes_a_row;
    space.years_left = static_cast<double>(space.free_bytes) / (space.bytes_per_day * 365.25);
  }
  return space;
}

}  // namespace dryclock::store
