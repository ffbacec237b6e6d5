// The tables that follow from the journal, dropped to be filled again by a replay.
#pragma once

#include <filesystem>
#include <vector>

#include "base/result.hpp"
#include "domain/view.hpp"

namespace dryclock::store {

// Empties readings, rejects, and alerts but those of `kept` rules, which no row tells of; `applied` becomes
// 0. Journal, sessions, plates and names, and what was delivered stay. Until finish_rebuild() the database
// says that it is being rebuilt. No writer may be open. Problem: the database.
[[nodiscard]] Result<void> begin_rebuild(const std::filesystem::path& database,
                                         const std::vector<AlertRule>& kept);
[[nodiscard]] Result<void> finish_rebuild(const std::filesystem::path& database);
// Whether a rebuild was cut short: what follows from the journal is incomplete. Problem: the database.
[[nodiscard]] Result<bool> is_being_rebuilt(const std::filesystem::path& database);

}  // namespace dryclock::store
