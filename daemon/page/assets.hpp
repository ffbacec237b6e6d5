// The page's files, compiled in by CMake: built from src/ by esbuild, with their gzip.
#pragma once

#include <span>

#include "http/asset.hpp"

namespace dryclock::page {

// Lives as long as the process.
[[nodiscard]] std::span<const http::Asset> assets();

}  // namespace dryclock::page
