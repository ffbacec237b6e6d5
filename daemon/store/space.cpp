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

Result<Space> measure_space(const std::filesystem::path& database, const Extent& journal) {
  std::error_code error;
  const auto disk = std::filesystem::space(std::filesystem::absolute(database).parent_path(), error);
  if (error) {
    return Problem{error.message(), database.string()};
  }
  Space space{.database_bytes = size_or_zero(database) + size_or_zero(database.string() + "-wal"),
              .free_bytes = static_cast<std::int64_t>(disk.available)};
  const double days = seconds_between(journal.first_at, journal.last_at) / day_s;
  if (journal.last > 0 && days >= 1.0 / 24.0) {
    space.rows_per_day = static_cast<double>(journal.last - journal.first + 1) / days;
    const double bytes_per_year = static_cast<double>(space.database_bytes) / days * 365.25;
    space.years_left = static_cast<double>(space.free_bytes) / bytes_per_year;
  }
  return space;
}

}  // namespace dryclock::store
