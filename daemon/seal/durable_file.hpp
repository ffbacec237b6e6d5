// Files that are there whole or not at all, also after a kill or a power cut. Throws
// std::filesystem::filesystem_error, which the seal's doors turn into a Problem.
#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <string_view>

namespace dryclock::seal {

// Absent: no such file.
[[nodiscard]] std::optional<std::string> read_if_there(const std::filesystem::path& file);
[[nodiscard]] std::string read_whole(const std::filesystem::path& file);

// Writes `temporary` (same file system, mode 0640; 0600 where `secret`), then moves it over `file`; both are
// on disk on return.
void write_durably(const std::filesystem::path& file, std::string_view bytes,
                   const std::filesystem::path& temporary, bool secret = false);

// With its parents; each on disk on return.
void make_folder(const std::filesystem::path& folder);

// Overwrites the content on disk, then removes the file. What a flash disk keeps of the old content below the
// file system cannot be reached.
void erase(const std::filesystem::path& file);

}  // namespace dryclock::seal
