// films.toml, solutions.toml, panels.toml and water.toml.
#pragma once

#include <filesystem>
#include <vector>

#include "config/problems.hpp"
#include "domain/setup.hpp"

namespace dryclock::config {

[[nodiscard]] std::vector<FilmEntry> read_films(const std::filesystem::path& file, Problems& problems);
[[nodiscard]] std::vector<SolutionEntry> read_solutions(const std::filesystem::path& file,
                                                        Problems& problems);
struct PanelFile {
  std::vector<PanelEntry> panels;
  std::vector<TemplateEntry> templates;  // may be empty
};
[[nodiscard]] PanelFile read_panels(const std::filesystem::path& file, Problems& problems);
[[nodiscard]] WaterTable read_water(const std::filesystem::path& file, Problems& problems);

// Each file from `own` where it is there, else from `shipped`.
[[nodiscard]] Catalogue read_catalogue(const std::filesystem::path& own, const std::filesystem::path& shipped,
                                       Problems& problems);

}  // namespace dryclock::config
