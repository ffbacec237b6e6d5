// A folder of files for one test, gone at its end.
#pragma once

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <stdexcept>
#include <string>
#include <string_view>
#include <vector>

namespace dryclock::test {

inline std::filesystem::path shipped() {
  return std::filesystem::path(DRYCLOCK_SOURCE_DIR) / "config";
}

class Folder {
 public:
  Folder() {
    std::string name = (std::filesystem::temp_directory_path() / "dryclock-config-XXXXXX").string();
    if (mkdtemp(name.data()) == nullptr) {
      throw std::runtime_error("no temporary folder");
    }
    path_ = name;
  }
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;
  ~Folder() {
    std::error_code ignored;
    std::filesystem::remove_all(path_, ignored);
  }

  std::filesystem::path write(const char* name, std::string_view text) const {
    std::ofstream(path_ / name) << text;
    return path_ / name;
  }
  [[nodiscard]] const std::filesystem::path& path() const { return path_; }

 private:
  std::filesystem::path path_;
};

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
