#include "store/ballast.hpp"

#include <fcntl.h>
#include <unistd.h>

#include <system_error>

namespace dryclock::store {

Ballast::Ballast(const std::filesystem::path& database, std::int64_t bytes)
    : path_(database.string() + ".ballast"), bytes_(bytes) {}

bool Ballast::lay() {
  std::error_code ignored;
  if (bytes_ == 0 || static_cast<std::int64_t>(std::filesystem::file_size(path_, ignored)) == bytes_) {
    return true;
  }
  const auto space = std::filesystem::space(path_.parent_path().empty() ? "." : path_.parent_path(), ignored);
  if (ignored || space.available / 4 < static_cast<std::uintmax_t>(bytes_)) {
    return false;
  }
  const int file = ::open(path_.c_str(), O_WRONLY | O_CREAT | O_CLOEXEC, 0600);
  if (file < 0) {
    return false;
  }
  const bool laid = ::posix_fallocate(file, 0, bytes_) == 0;
  ::close(file);
  if (!laid) {
    drop();
  }
  return laid;
}

bool Ballast::drop() {
  std::error_code ignored;
  return bytes_ > 0 && std::filesystem::remove(path_, ignored);
}

}  // namespace dryclock::store
