// An error a person can act on: what went wrong, and where (a file and line, a field, a topic).
#pragma once

#include <string>

namespace dryclock {

struct Problem {
  std::string what;
  std::string where;  // empty where the caller knows

  bool operator==(const Problem&) const = default;
};

// "where: what", or just "what".
[[nodiscard]] inline std::string to_string(const Problem& problem) {
  return problem.where.empty() ? problem.what : problem.where + ": " + problem.what;
}

}  // namespace dryclock
