#include "engine/piece_spec.hpp"

#include <algorithm>

namespace dryclock::engine {
namespace {

template <class Entry>
const Entry* find(const std::vector<Entry>& entries, const std::string& key, bool first_is_default) {
  if (key.empty() && first_is_default) {
    return entries.empty() ? nullptr : &entries.front();
  }
  const auto found =
      std::find_if(entries.begin(), entries.end(), [&](const auto& e) { return e.key == key; });
  return found == entries.end() ? nullptr : &*found;
}

}  // namespace

const FilmEntry* find_film(const Catalogue& catalogue, const std::string& key) {
  return find(catalogue.films, key, true);
}
const SolutionEntry* find_solution(const Catalogue& catalogue, const std::string& key) {
  return find(catalogue.solutions, key, true);
}
const PanelEntry* find_panel(const Catalogue& catalogue, const std::string& key) {
  return find(catalogue.panels, key, false);
}

std::vector<models::ZoneKind> zones_of(const Lay& lay, const Catalogue& catalogue) {
  if (!lay.zones.empty()) {
    return lay.zones;
  }
  const auto* panel = find_panel(catalogue, lay.panel);
  return panel == nullptr || panel->zones.empty()
             ? std::vector{models::ZoneKind::field, models::ZoneKind::edge}
             : panel->zones;
}

models::LaidSpec laid_spec(const Lay& lay, Time laid, const Catalogue& catalogue,
                           const FilmMeasures& measures) {
  models::LaidSpec spec;
  if (const auto* film = find_film(catalogue, lay.film)) {
    spec.stack = measures.stack_of(*film, lay.lot, laid);
  }
  if (const auto* solution = find_solution(catalogue, lay.solution)) {
    spec.solution = solution->solution;
  }
  if (const auto* panel = find_panel(catalogue, lay.panel)) {
    spec.panel = panel->thermal;
  }
  for (const auto kind : zones_of(lay, catalogue)) {
    models::LaidZone zone;
    zone.kind = kind;
    zone.usual = models::GramsPerSquareMetre{
        catalogue.water[static_cast<std::size_t>(kind)][static_cast<std::size_t>(lay.wetness)]};
    spec.zones.push_back(zone);
  }
  return spec;
}

double area_of(const Lay& lay, const Catalogue& catalogue) {
  constexpr double bonnet_m2 = 1.5;
  const auto* entry = find_panel(catalogue, lay.panel);
  const bool sides_told = entry != nullptr ? entry->sides.has_value()
                                           : std::ranges::any_of(catalogue.panels, [](const PanelEntry& one) {
                                               return one.sides.has_value();
                                             });
  const double all_m2 = entry != nullptr ? entry->area_m2 : bonnet_m2;
  if (!sides_told) {
    return all_m2;
  }
  // Where nobody said which side, parts may be whole panels: the left one and the right one.
  const auto panels =
      lay.side || entry == nullptr ? std::size_t{1} : std::max<std::size_t>(1, entry->sides->size());
  return all_m2 * std::min(1.0, static_cast<double>(panels) / lay.parts);
}

}  // namespace dryclock::engine
