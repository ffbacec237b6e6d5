// The devices that are let in, as the token file says, and whether it has changed since it was read. On the
// core thread.
#pragma once

#include <cstdint>
#include <filesystem>
#include <optional>
#include <tuple>

#include "base/result.hpp"
#include "http/access.hpp"

namespace dryclock::app {

class Paired {
 public:
  // Empty: nobody is, beyond this machine.
  explicit Paired(std::filesystem::path file) : file_(std::move(file)) {}

  // Only the tokens' hashes are kept. A file that is not there yet lets nobody in. Problem: it cannot be
  // read.
  [[nodiscard]] Result<http::Access> read();
  // What is let in now, where the file has changed since the last reading. One that cannot be read any more
  // is logged, and changes nothing.
  [[nodiscard]] std::optional<http::Access> changed();

 private:
  // The file's number, size, and the time of its last change in s and ns.
  using Mark = std::tuple<std::uint64_t, std::int64_t, std::int64_t, std::int64_t>;
  [[nodiscard]] Mark mark() const;

  std::filesystem::path file_;
  Mark read_at_{};
};

}  // namespace dryclock::app
