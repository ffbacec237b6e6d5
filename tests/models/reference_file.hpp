// Reference tables that are too large to type or not ours to ship. They lie in the folder DRYCLOCK_REFERENCE,
// by default shared/reference beside the repository; a check that needs one says so and is skipped where it
// is absent.
#pragma once

#include <cstdlib>
#include <fstream>
#include <iostream>
#include <string>
#include <vector>

#include "support/csv.hpp"

namespace dryclock::models::testing {

// Rows of a comma-separated file, without comments (#) and without the row of names. Empty, with a printed
// notice, where the file is not there.
inline std::vector<std::vector<std::string>> reference_rows(const std::string& name) {
  const char* folder = std::getenv("DRYCLOCK_REFERENCE");
  const std::string path =
      (folder != nullptr ? std::string{folder} : std::string{DRYCLOCK_SOURCE_DIR} + "/../shared/reference") +
      "/" + name;
  std::ifstream file{path};
  std::vector<std::vector<std::string>> rows;
  if (!file) {
    std::cout << "SKIPPED: no reference file " << name << " (set DRYCLOCK_REFERENCE to its folder)\n";
    return rows;
  }
  std::string line;
  bool names = true;
  while (std::getline(file, line)) {
    if (line.empty() || line.front() == '#') {
      continue;
    }
    if (names) {
      names = false;
      continue;
    }
    rows.push_back(test::cells_of(line));
  }
  return rows;
}

}  // namespace dryclock::models::testing
