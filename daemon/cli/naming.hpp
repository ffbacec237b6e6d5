// What people call things: vehicles by reference or number, pieces by number or panel, panels by either
// dialect's word. Every failure is Failure{usage} and lists what there is.
#pragma once

#include <string>

#include "domain/answers.hpp"
#include "domain/view.hpp"

namespace dryclock::cli {

// A reference or number among the vehicles of the board; empty: the only one in the shop.
[[nodiscard]] const VehicleSummary& find_vehicle(const Board& board, const std::string& name);

struct FoundPiece {
  const VehicleSummary* vehicle = nullptr;
  const PieceSummary* piece = nullptr;
};
// "41", "bonnet", "bonnet 2" (the second piece on it), "front bumper 2". Panels are looked for on `vehicle`,
// or on all vehicles in the shop where it is empty. Pieces that were pulled or replaced are found by number
// alone.
[[nodiscard]] FoundPiece find_piece(const Board& board, const CatalogueView& shop, const std::string& name,
                                    const std::string& vehicle);

// The catalogue's key for a key or for a word of either dialect. `own_words`: what is not there stands as it
// is.
[[nodiscard]] std::string find_panel(const CatalogueView& shop, const std::string& name, bool own_words);

// A panel's word in the shop's dialect, with "2/3" where there are several pieces on it.
[[nodiscard]] std::string panel_label(const CatalogueView& shop, const std::string& key, int part, int parts);
[[nodiscard]] std::string piece_label(const CatalogueView& shop, const PieceSummary& piece);

[[nodiscard]] bool in_shop(const VehicleSummary& vehicle);
[[nodiscard]] bool laid_now(const PieceSummary& piece);

}  // namespace dryclock::cli
