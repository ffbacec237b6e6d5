#include "base/secret_file.hpp"

#include <fstream>
#include <utility>

namespace dryclock {

Result<std::string> read_secret(const std::filesystem::path& path) {
  std::ifstream file(path);
  std::string line;
  std::getline(file, line);
  if (!line.empty() && line.back() == '\r') {
    line.pop_back();
  }
  if (line.empty()) {
    return Problem{"cannot be read, or its first line is empty", path.string()};
  }
  return {boost::system::in_place_value, std::move(line)};
}

}  // namespace dryclock
