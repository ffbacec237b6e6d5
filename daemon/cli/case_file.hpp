// Reads a case for `dryclock dry` from TOML or JSON. README.md, section Case files, describes it.
#pragma once

#include <filesystem>

#include "base/result.hpp"
#include "cli/dry_case.hpp"

namespace dryclock::cli {

// `shipped` is the folder of films.toml and panels.toml, which a case may name keys of; where there is none,
// a case that names no key is read all the same. A file that ends in ".json" is JSON, every other one TOML.
// Throws ConfigError with every problem.
[[nodiscard]] DryCase read_case(const std::filesystem::path& file,
                                const Result<std::filesystem::path>& shipped);

}  // namespace dryclock::cli
