// The database's schema: opened, checked and brought up to date before anything else may use it.
#pragma once

#include <filesystem>
#include <span>
#include <string_view>
#include <vector>

#include "store/sqlite.hpp"

namespace dryclock::store {

inline constexpr int application_id = 0x64727963;  // "dryc", so that `file` and others can tell

// One entry a version: step n brings a database from version n to n + 1. Never edited once released.
[[nodiscard]] std::span<const std::string_view> schema_steps();

// A connection with the settings that durability rests on: write-ahead log, synchronous FULL.
// Throws SqlError: cannot be opened, the file system cannot hold a write-ahead log.
[[nodiscard]] Connection open_for_writing(const std::filesystem::path& path);

// Runs the steps that are missing, each in one transaction; before the first on an existing database, a copy
// goes beside it ("<path>.version-<n>"). Throws SqlError: not a dryclock database, or a newer one's.
void migrate(Connection& connection, const std::filesystem::path& path,
             std::span<const std::string_view> all_steps);

// The copies that migrate() has left beside the database.
[[nodiscard]] std::vector<std::filesystem::path> copies_of(const std::filesystem::path& path);

}  // namespace dryclock::store
