// Every problem of the configuration at once, so that a person mends them in one go. The daemon prints them
// and exits with 78 (EX_CONFIG).
#pragma once

#include <stdexcept>
#include <string>
#include <vector>

#include "base/problem.hpp"

namespace dryclock {

class ConfigError final : public std::runtime_error {
 public:
  explicit ConfigError(std::vector<Problem> problems)
      : std::runtime_error(joined(problems)), problems_(std::move(problems)) {}

  // In the order of files and lines; `where` is "file:line:column".
  [[nodiscard]] const std::vector<Problem>& problems() const { return problems_; }

 private:
  [[nodiscard]] static std::string joined(const std::vector<Problem>& problems) {
    std::string lines;
    for (const auto& problem : problems) {
      lines += (lines.empty() ? "" : "\n") + to_string(problem);
    }
    return lines;
  }

  std::vector<Problem> problems_;
};

}  // namespace dryclock
