// What stands in the shop and is gone from the settings: it goes on drying under its last settings (a film
// that no settings in the journal know, as a flagged stand-in), and is said by name and number.
#pragma once

#include <string>
#include <vector>

#include "base/result.hpp"
#include "config/config.hpp"
#include "domain/view.hpp"

namespace dryclock::app {

// One line for each, and vehicle: "bay 'front' is gone from the files: vehicle 12 (lot 5) stands in it".
[[nodiscard]] std::vector<std::string> gone_and_in_use(const Board& board);

// What gone_and_in_use() would say if the daemon started with this configuration now; nothing where there is
// no database. Reads only, also while a daemon runs, and takes as long as a start's replay. Problem: the
// database, also where another version has written it.
[[nodiscard]] Result<std::vector<std::string>> compare_with_journal(const Config& config);

}  // namespace dryclock::app
