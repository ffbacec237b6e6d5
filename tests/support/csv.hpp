// Comma-separated files as tests and benches read them.
#pragma once

#include <string>
#include <vector>

namespace dryclock::test {

// The cells of a record, as RFC 4180 has them; a record here holds no line break.
[[nodiscard]] inline std::vector<std::string> cells_of(const std::string& line) {
  std::vector<std::string> cells(1);
  bool quoted = false;
  for (std::size_t i = 0; i < line.size(); ++i) {
    if (quoted && line[i] == '"' && i + 1 < line.size() && line[i + 1] == '"') {
      cells.back() += line[i++];
    } else if (line[i] == '"') {
      quoted = !quoted;
    } else if (line[i] == ',' && !quoted) {
      cells.emplace_back();
    } else {
      cells.back() += line[i];
    }
  }
  return cells;
}

}  // namespace dryclock::test
