// Files in one zip archive, the same bytes for the same files.
#pragma once

#include <string>
#include <vector>

#include "base/result.hpp"
#include "record/record.hpp"

namespace dryclock::record {

// In the given order, all below `folder`, all dated `at` to two seconds (the format's own). Problem: the
// library cannot make it.
[[nodiscard]] Result<std::string> zipped(const std::vector<File>& files, const std::string& folder, Time at);

}  // namespace dryclock::record
