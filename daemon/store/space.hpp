// How long the disk will last: a figure for the page, the client and the "disk low" alert.
#pragma once

#include <cstdint>
#include <filesystem>

#include "base/result.hpp"
#include "domain/space.hpp"
#include "store/reader.hpp"

namespace dryclock::store {

// `recent`: the part of the journal that the rate is taken from. What one row takes is the whole's mean.
// Problem: the file system cannot be asked.
[[nodiscard]] Result<Space> measure_space(const std::filesystem::path& database, const Extent& journal,
                                          const Extent& recent, std::int64_t seal_bytes);

}  // namespace dryclock::store
