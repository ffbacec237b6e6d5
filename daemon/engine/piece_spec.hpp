// A laid piece in the models' terms, from the catalogue's entries.
#pragma once

#include "domain/event.hpp"
#include "domain/setup.hpp"
#include "engine/film_measures.hpp"
#include "models/laid_piece.hpp"

namespace dryclock::engine {

// An empty key is the catalogue's first entry; null where the key is unknown (or the catalogue empty).
[[nodiscard]] const FilmEntry* find_film(const Catalogue& catalogue, const std::string& key);
[[nodiscard]] const SolutionEntry* find_solution(const Catalogue& catalogue, const std::string& key);
// Null for a panel in the user's own words.
[[nodiscard]] const PanelEntry* find_panel(const Catalogue& catalogue, const std::string& key);

// The zones that the event names, else the panel's.
[[nodiscard]] std::vector<models::ZoneKind> zones_of(const Lay& lay, const Catalogue& catalogue);

// What the catalogue does not know has the models' defaults.
[[nodiscard]] models::LaidSpec laid_spec(const Lay& lay, Time laid, const Catalogue& catalogue,
                                         const FilmMeasures& measures);
// Of a piece, its part of the panel's; of a panel that the catalogue does not know, of about a bonnet's. [m2]
// By settings of before sides were told each piece counts as all of its panel.
[[nodiscard]] double area_of(const Lay& lay, const Catalogue& catalogue);

}  // namespace dryclock::engine
