#include "config/catalogue_files.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <cstdint>
#include <set>
#include <string>
#include <string_view>
#include <system_error>

#include "base/wellformed.hpp"
#include "config/nearest.hpp"
#include "config/read_stack.hpp"
#include "config/read_thermal.hpp"
#include "config/section.hpp"
#include "config/toml_tree.hpp"

namespace dryclock {
namespace {

// That may be done on a panel, as panels.toml calls them.
enum class Step : std::uint8_t { wrap, trim, refit };

models::Milestone milestone_of(Step step) {
  switch (step) {
    case Step::wrap:
      return models::Milestone::wrap_ready;
    case Step::trim:
      return models::Milestone::trim_ready;
    case Step::refit:
      break;
  }
  return models::Milestone::refit_ready;
}

}  // namespace

template <>
inline constexpr std::array words<Step>{std::string_view{"wrap"}, std::string_view{"trim"},
                                        std::string_view{"refit"}};

}  // namespace dryclock

namespace dryclock::config {
namespace {

// The file as a tree, or an empty table in its place: its problem is noted then.
Node open(const std::filesystem::path& file, Problems& problems) {
  Node nothing{{file.string(), 0, 0, ""}, Table{}};
  const auto text = read_file(file, problems);
  return text ? parse_toml(*text, file.string(), problems).value_or(nothing) : nothing;
}

// Reads every [[name]] table with `read(section, key)`, and watches that keys are there, well formed and
// different.
template <class Entry, class Read>
std::vector<Entry> read_entries(Section& root, std::string_view name, Problems& problems, Read read) {
  std::vector<Entry> entries;
  std::set<std::string> seen;
  for (auto& section : root.list(name)) {
    Entry entry;
    entry.key = section.needed_text("key");
    if (const auto wrong = wrong_with_key(entry.key); !entry.key.empty() && !wrong.empty()) {
      section.complain("key", wrong);
    } else if (!entry.key.empty() && !seen.insert(entry.key).second) {
      section.complain("key", fmt::format("\"{}\" is there already", entry.key));
    }
    read(section, entry);
    section.finish();
    entries.push_back(std::move(entry));
  }
  if (entries.empty() &&
      root.place().line != 0) {  // line 0: the file was not readable, which is said already
    problems.add(root.place(), fmt::format("no [[{}]] in this file", name));
  }
  return entries;
}

struct Sheet {
  std::string key;
  models::PanelThermal thermal;
};

constexpr Bounds water_g_m2{0.01, 1000.0};
constexpr double pool_g_m2 = 40.0;  // a bridged valley of 1 mm radius holds 19 to 62 um (computed)

// One number; of an older file, that had 10 %, 50 % and 90 %, the middle one.
double read_water_word(Section& section, std::string_view key) {
  if (!section.is_list(key)) {
    return section.needed_number(key, water_g_m2);
  }
  const auto values = section.numbers(key, water_g_m2);
  if (values.size() != 3 || !std::is_sorted(values.begin(), values.end())) {
    section.complain(key, "a number is expected, or an older file's three, rising");
    return water_g_m2.least;
  }
  section.warn(key,
               fmt::format("of the three numbers the middle one counts: write {} = {:g}", key, values[1]));
  return values[1];
}

// Older files have no word for a pool.
double read_pooled(Section& section, models::ZoneKind zone, double wet) {
  const auto key = name_of(models::Wetness::pooled);
  if (section.has(key)) {
    return read_water_word(section, key);
  }
  return zone == models::ZoneKind::recess ? std::max(wet, pool_g_m2) : wet;
}

void read_zone_water(Section& section, models::ZoneKind zone, std::array<double, models::wetnesses>& water) {
  using models::Wetness;
  for (const auto wetness : {Wetness::dry_pulled, Wetness::usual, Wetness::wet}) {
    water[static_cast<std::size_t>(wetness)] = read_water_word(section, name_of(wetness));
  }
  water[static_cast<std::size_t>(Wetness::pooled)] =
      read_pooled(section, zone, water[static_cast<std::size_t>(Wetness::wet)]);
}

void read_steps(Section& section, PanelEntry& panel) {
  if (!section.has("steps")) {
    return;  // all of them
  }
  panel.steps.clear();
  for (const auto step : section.word_list<Step>("steps")) {
    panel.steps.push_back(milestone_of(step));
  }
  if (std::set(panel.steps.begin(), panel.steps.end()).size() != panel.steps.size()) {
    section.complain("steps", "a step stands twice");
  }
}

void read_sides(Section& section, PanelEntry& panel) {
  panel.sides = section.has("sides") ? section.word_list<Side>("sides") : std::vector<Side>{};
  if (std::set(panel.sides->begin(), panel.sides->end()).size() != panel.sides->size()) {
    section.complain("sides", "a side stands twice");
  }
}

// An entry's words, the British ones under the key that the file has for them.
void read_labels(Section& section, std::string_view british, auto& entry) {
  entry.label_uk = section.needed_text(british);
  entry.label_us = section.text("us", entry.label_uk);
  entry.label_de = section.text("de");
}

}  // namespace

std::vector<FilmEntry> read_films(const std::filesystem::path& file, Problems& problems) {
  const auto tree = open(file, problems);
  Section root(tree, problems);
  auto films = read_entries<FilmEntry>(root, "film", problems, [](Section& section, FilmEntry& film) {
    read_labels(section, "label", film);
    film.data_sheet = section.text("data_sheet");
    film.stack = read_stack(section);
  });
  root.finish();
  return films;
}

std::vector<SolutionEntry> read_solutions(const std::filesystem::path& file, Problems& problems) {
  const auto tree = open(file, problems);
  Section root(tree, problems);
  auto solutions =
      read_entries<SolutionEntry>(root, "solution", problems, [](Section& section, SolutionEntry& solution) {
        read_labels(section, "label", solution);
        solution.data_sheet = section.text("data_sheet");
        solution.solution.alcohol_fraction = section.number("alcohol_mass_fraction", 0.0, {0.0, 0.5});
      });
  root.finish();
  return solutions;
}

namespace {

// Of that panel: those that the piece names, else all that there are; none where there is one panel.
std::vector<std::optional<Side>> read_template_sides(Section& one, const PanelEntry* panel) {
  const auto there = panel == nullptr ? std::vector<Side>{} : panel->sides.value_or(std::vector<Side>{});
  const auto named = one.has("sides") ? one.word_list<Side>("sides") : there;
  for (const auto side : named) {
    if (panel != nullptr && std::ranges::find(there, side) == there.end()) {
      one.complain("sides", fmt::format("\"{}\" is no side of this panel", name_of(side)));
    }
  }
  std::vector<std::optional<Side>> sides{named.begin(), named.end()};
  return sides.empty() ? std::vector<std::optional<Side>>{std::nullopt} : sides;
}

std::vector<PlannedPiece> read_template_pieces(Section& section, const std::vector<PanelEntry>& panels) {
  const auto keys = names_of(panels, &PanelEntry::key);
  constexpr int most_parts = 20;
  std::vector<PlannedPiece> pieces;
  section.need("pieces");
  for (auto& one : section.list("pieces")) {
    const auto panel = one.needed_text("panel");
    const int parts = one.whole("parts", 1, 1, most_parts);
    if (!panel.empty() && std::find(keys.begin(), keys.end(), panel) == keys.end()) {
      one.complain("panel", fmt::format("no [[panel]] \"{}\"{}", panel, did_you_mean(panel, keys)));
    } else if (std::any_of(pieces.begin(), pieces.end(), [&](const auto& p) { return p.panel == panel; })) {
      one.complain("panel", fmt::format("\"{}\" stands twice; for several pieces on it set parts", panel));
    }
    const auto entry = std::ranges::find(panels, panel, &PanelEntry::key);
    const auto sides = read_template_sides(one, entry == panels.end() ? nullptr : &*entry);
    one.finish();
    for (const auto side : sides) {
      for (int part = 1; part <= parts; ++part) {
        pieces.push_back({panel, part, parts, side, {}});
      }
    }
  }
  if (pieces.empty() && section.has("pieces")) {
    section.complain("pieces", "a list of at least one { panel = ... } is expected");
  }
  return pieces;
}

}  // namespace

PanelFile read_panels(const std::filesystem::path& file, Problems& problems) {
  const auto tree = open(file, problems);
  Section root(tree, problems);
  PanelFile out;
  const auto sheets = read_entries<Sheet>(root, "sheet", problems, [](Section& section, Sheet& sheet) {
    section.need("heat_capacity_j_m2k");
    sheet.thermal = read_thermal(section, {});
  });
  out.panels = read_entries<PanelEntry>(root, "panel", problems, [&](Section& section, PanelEntry& panel) {
    read_labels(section, "uk", panel);
    panel.area_m2 = section.needed_number("area_m2", {0.001, 30.0});
    const auto material = section.needed_text("sheet");
    const auto sheet =
        std::find_if(sheets.begin(), sheets.end(), [&](const Sheet& s) { return s.key == material; });
    if (sheet != sheets.end()) {
      panel.thermal = sheet->thermal;
    } else if (!material.empty()) {
      section.complain("sheet", fmt::format("no [[sheet]] \"{}\"{}", material,
                                            did_you_mean(material, names_of(sheets, &Sheet::key))));
    }
    section.need("zones");
    panel.zones = section.word_list<models::ZoneKind>("zones");
    if (std::set(panel.zones.begin(), panel.zones.end()).size() != panel.zones.size()) {
      section.complain("zones", "a zone stands twice");
    }
    read_sides(section, panel);
    read_steps(section, panel);
  });
  if (root.has("template")) {
    out.templates =
        read_entries<TemplateEntry>(root, "template", problems, [&](Section& section, TemplateEntry& entry) {
          read_labels(section, "uk", entry);
          entry.pieces = read_template_pieces(section, out.panels);
        });
  }
  root.finish();
  return out;
}

WaterTable read_water(const std::filesystem::path& file, Problems& problems) {
  const auto tree = open(file, problems);
  const bool readable = tree.place.line != 0;
  Section root(tree, problems);
  WaterTable water{};
  for (std::size_t zone = 0; readable && zone < water.size(); ++zone) {
    const auto kind = static_cast<models::ZoneKind>(zone);
    root.need(name_of(kind));
    if (auto section = root.section(name_of(kind))) {
      read_zone_water(*section, kind, water[zone]);
      section->finish();
    }
  }
  root.finish();
  return water;
}

Catalogue read_catalogue(const std::filesystem::path& own, const std::filesystem::path& shipped,
                         Problems& problems) {
  // One of the shop's own that leads nowhere, or that may not be looked at, is complained of, not passed
  // over.
  const auto pick = [&](const char* name) {
    std::error_code told_by_reading;
    const auto mine = std::filesystem::symlink_status(own / name, told_by_reading);
    return std::filesystem::exists(mine) ? own / name : shipped / name;
  };
  Catalogue catalogue;
  catalogue.films = read_films(pick("films.toml"), problems);
  catalogue.solutions = read_solutions(pick("solutions.toml"), problems);
  auto panels = read_panels(pick("panels.toml"), problems);
  catalogue.panels = std::move(panels.panels);
  catalogue.templates = std::move(panels.templates);
  catalogue.water = read_water(pick("water.toml"), problems);
  return catalogue;
}

}  // namespace dryclock::config
