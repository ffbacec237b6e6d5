// A program that runs beside a test: the broker, the daemon. Killed at the end of the test.
#pragma once

#include <sys/types.h>

#include <chrono>
#include <filesystem>
#include <optional>
#include <string>
#include <vector>

namespace dryclock::test {

class Process {
 public:
  // Without a shell; standard output and error go to the end of `output` (empty: nowhere).
  explicit Process(std::vector<std::string> arguments, const std::filesystem::path& output = {});
  Process(Process&& other) noexcept;
  Process& operator=(Process&&) = delete;
  ~Process();

  void signal(int number) const;
  // How it ended: its exit code, or 128 + the signal's number; absent: it still runs after `cap`.
  std::optional<int> wait(std::chrono::milliseconds cap);
  [[nodiscard]] pid_t id() const { return id_; }

 private:
  pid_t id_ = -1;
  std::optional<int> ended_;
};

// A program that is done within a minute. Throws std::runtime_error where it fails.
void run_to_end(std::vector<std::string> arguments);

}  // namespace dryclock::test
