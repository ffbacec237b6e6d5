#include "cli/case_file.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "cli/air_csv.hpp"
#include "cli/json_tree.hpp"
#include "config/catalogue_files.hpp"
#include "config/config_error.hpp"
#include "config/nearest.hpp"
#include "config/read_stack.hpp"
#include "config/read_thermal.hpp"
#include "config/section.hpp"
#include "config/toml_tree.hpp"
#include "models/film_modes.hpp"

namespace dryclock::cli {
namespace {

using config::Problems;
using config::Section;

constexpr Bounds temperature{coldest_c, hottest_c};
constexpr Bounds humidity{0.0, 100.0};

using Shipped = Result<std::filesystem::path>;

// Whether there are catalogues for the entry that `key` names; where not, that is complained of.
bool has_catalogues(const Shipped& shipped, Section& section, std::string_view key) {
  if (!shipped) {
    section.complain(key, to_string(shipped.error()));
  }
  return shipped.has_value();
}

// The entry of a catalogue that `section` names by `key`.
template <class Entry>
const Entry* named(Section& section, std::string_view key, const std::vector<Entry>& entries) {
  const auto wanted = section.text(key);
  const auto at =
      std::find_if(entries.begin(), entries.end(), [&](const Entry& e) { return e.key == wanted; });
  if (at != entries.end()) {
    return &*at;
  }
  section.complain(key, fmt::format("no \"{}\" in the catalogue{}", wanted,
                                    config::did_you_mean(wanted, config::names_of(entries, &Entry::key))));
  return nullptr;
}

models::FilmStack read_film(Section& root, const Shipped& shipped, Problems& problems) {
  if (!root.has("film")) {
    if (!root.has("layer")) {
      root.need("film");
      return {};
    }
    return config::read_stack(root);
  }
  if (root.has("layer")) {
    root.complain("film", "either film or layer, not both");
  }
  if (!has_catalogues(shipped, root, "film")) {
    return {};
  }
  const auto films = config::read_films(*shipped / "films.toml", problems);
  const auto* film = named(root, "film", films);
  return film == nullptr ? models::FilmStack{} : film->stack;
}

AirAt read_row(Section& row) {
  AirAt at;
  at.hours = row.number("hours", 0.0, {0.0, 24.0 * 366});
  at.air_c = row.needed_number("air_c", temperature);
  at.rh_pct = row.needed_number("rh_pct", humidity);
  at.panel_c = row.maybe_number("panel_c", temperature).value_or(at.panel_c);
  return at;
}

std::vector<AirAt> read_air(Section& root, const std::filesystem::path& folder, Problems& problems) {
  root.need("air");
  auto section = root.section("air");
  std::vector<AirAt> air;
  if (!section) {
    return air;
  }
  if (section->has("csv")) {
    const auto file = folder / section->text("csv");
    if (const auto text = config::read_file(file, problems)) {
      air = parse_air_csv(*text, file.string(), problems);
    }
  } else if (section->has("series")) {
    for (auto& row : section->list("series")) {
      row.need("hours");
      air.push_back(read_row(row));
      if (air.size() > 1 && air.back().hours <= air[air.size() - 2].hours) {
        row.complain("hours", "does not rise");
      }
      row.finish();
    }
    if (air.empty()) {
      section->complain("series", "at least one row is needed");
    }
  } else {
    air.push_back(read_row(*section));
  }
  section->finish();
  return air;
}

void read_panel(Section& root, const Shipped& shipped, Problems& problems, DryCase& dry) {
  auto section = root.section("panel");
  if (!section) {
    return;
  }
  dry.panel = section->word("temperature", dry.panel);
  if (dry.panel == PanelSource::modelled) {
    if (section->has("like") && has_catalogues(shipped, *section, "like")) {
      const auto panels = config::read_panels(*shipped / "panels.toml", problems).panels;
      if (const auto* panel = named(*section, "like", panels)) {
        dry.thermal = panel->thermal;
      }
    }
    dry.thermal = config::read_thermal(*section, dry.thermal);
    dry.panel_start_c = section->maybe_number("start_c", temperature);
  }
  const auto measured = [](const AirAt& at) { return !std::isnan(at.panel_c); };
  if (dry.panel == PanelSource::measured && !std::all_of(dry.air.begin(), dry.air.end(), measured)) {
    section->complain("temperature", "\"measured\" needs panel_c with every row of air");
  }
  section->finish();
}

void read_root(Section& root, const std::filesystem::path& folder, const Shipped& shipped, Problems& problems,
               DryCase& dry) {
  dry.title = root.text("title");
  dry.stack = read_film(root, shipped, problems);
  dry.water = root.needed_number("water_g_m2", {0.01, 1000.0});
  dry.break_up = root.number("break_up_g_m2", dry.break_up, {0.0, 1000.0});
  dry.dry_below = root.number("dry_below_g_m2", dry.dry_below, {0.001, 5.0});
  dry.alcohol = root.number("alcohol_mass_fraction", dry.alcohol, {0.0, 0.5});
  dry.air_layer_coefficient = root.number("air_layer_m_s", dry.air_layer_coefficient, {1e-5, 1.0});
  dry.start_activity = root.maybe_number("film_start_activity", {0.0, 1.0});
  dry.max_hours = root.number("max_hours", dry.max_hours, {0.1, 24.0 * 366});
  // Modes are exact where the layers share one activation energy; the grid everywhere, but for alcohol.
  const bool modes_hold = models::one_activation_energy(dry.stack) || dry.alcohol > 0.0;
  dry.solver = root.word("solver", modes_hold ? Solver::modes : Solver::grid);
  if (dry.solver == Solver::grid && dry.alcohol > 0.0) {
    root.complain("solver", "\"grid\" knows water alone; take \"modes\" where there is alcohol");
  }
  dry.air = read_air(root, folder, problems);
  read_panel(root, shipped, problems, dry);
  root.finish();
}

}  // namespace

DryCase read_case(const std::filesystem::path& file, const Result<std::filesystem::path>& shipped) {
  Problems problems;
  DryCase dry;
  if (const auto text = config::read_file(file, problems)) {
    const auto tree = file.extension() == ".json" ? parse_json(*text, file.string(), problems)
                                                  : config::parse_toml(*text, file.string(), problems);
    if (tree) {
      Section root(*tree, problems);
      read_root(root, file.parent_path(), shipped, problems, dry);
    }
  }
  if (!problems.empty()) {
    throw ConfigError(problems.sorted());
  }
  return dry;
}

}  // namespace dryclock::cli
