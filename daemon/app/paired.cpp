#include "app/paired.hpp"

#include <sys/stat.h>

#include "base/log.hpp"
#include "base/sha256.hpp"
#include "config/token_file.hpp"

namespace dryclock::app {

Paired::Mark Paired::mark() const {
  struct stat about {};
  if (file_.empty() || ::stat(file_.c_str(), &about) != 0) {
    return {};
  }
  return {about.st_ino, about.st_size, about.st_mtim.tv_sec, about.st_mtim.tv_nsec};
}

Result<http::Access> Paired::read() {
  http::Access access;
  if (file_.empty()) {
    return access;
  }
  read_at_ = mark();  // before reading: a change meanwhile is found the next time
  const auto devices = read_tokens(file_);
  if (!devices) {
    return devices.error();
  }
  for (const auto& device : *devices) {
    access.tokens.push_back({sha256_hex(device.token), device.read_only});
  }
  if (access.tokens.empty()) {
    log::warning("no device is paired in {}; to let one in: dryclock pair", file_.string());
  }
  return access;
}

std::optional<http::Access> Paired::changed() {
  if (mark() == read_at_) {
    return std::nullopt;
  }
  auto access = read();
  if (!access) {
    log::warning("{}", to_string(access.error()));
    return std::nullopt;
  }
  log::info("paired devices: {}", access->tokens.size());
  return std::move(*access);
}

}  // namespace dryclock::app
