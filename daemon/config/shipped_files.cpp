#include "config/shipped_files.hpp"

#include <cstdlib>
#include <system_error>

namespace dryclock {
namespace {

bool holds_catalogue(const std::filesystem::path& folder) {
  std::error_code ignored;
  return std::filesystem::is_regular_file(folder / "films.toml", ignored);
}

}  // namespace

Result<std::filesystem::path> find_shipped_files(const std::string& asked) {
  std::string named = asked;
  std::string by = "--config-dir";
  if (named.empty()) {
    if (const char* variable = std::getenv("DRYCLOCK_CONFIG_DIR"); variable != nullptr) {
      named = variable;
      by = "DRYCLOCK_CONFIG_DIR";
    }
  }
  if (!named.empty()) {
    if (holds_catalogue(named)) {
      return Result<std::filesystem::path>(boost::system::in_place_value, named);
    }
    return Problem{"no films.toml in this folder", by + " " + named};
  }
  std::string looked;
  std::error_code ignored;
  const auto program = std::filesystem::read_symlink("/proc/self/exe", ignored);
  for (const std::filesystem::path& folder : {program.parent_path().parent_path() / "share" / "dryclock"
#ifdef DRYCLOCK_SOURCE_CONFIG_DIR
                                              ,
                                              std::filesystem::path(DRYCLOCK_SOURCE_CONFIG_DIR)
#endif
       }) {
    if (holds_catalogue(folder)) {
      return Result<std::filesystem::path>(boost::system::in_place_value, folder);
    }
    looked += (looked.empty() ? "" : ", ") + folder.string();
  }
  return Problem{"no films.toml in " + looked + "; name its folder with --config-dir", ""};
}

}  // namespace dryclock
