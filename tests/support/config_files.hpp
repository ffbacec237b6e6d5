// The files that are shipped in config/, and files of a test's own.
#pragma once

#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>
#include <string_view>
#include <vector>

#include "support/scratch_folder.hpp"

namespace dryclock::test {

inline std::filesystem::path shipped() {
  return std::filesystem::path(DRYCLOCK_SOURCE_DIR) / "config";
}

inline std::filesystem::path write(const ScratchFolder& folder, const char* name, std::string_view text) {
  std::ofstream(folder / name) << text;
  return folder / name;
}

inline std::string read(const std::filesystem::path& file) {
  std::ostringstream text;
  text << std::ifstream(file).rdbuf();
  return std::move(text).str();
}

// One a line, so that a failed check shows them.
inline std::string joined(const std::vector<std::string>& lines) {
  std::string text;
  for (const auto& line : lines) {
    text += line + "\n";
  }
  return text;
}

}  // namespace dryclock::test
