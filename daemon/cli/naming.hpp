// What people call things: vehicles by reference or number, pieces by number or panel, panels by the word of
// any language. Every failure is Failure{usage} and lists what there is, panels in the words of `words`.
#pragma once

#include <string>
#include <vector>

#include "cli/likeness.hpp"
#include "domain/answers.hpp"
#include "domain/view.hpp"
#include "wording/words.hpp"

namespace dryclock::cli {

// A reference or number among the vehicles of the board; empty: the only one in the shop.
[[nodiscard]] const VehicleSummary& find_vehicle(const Board& board, const std::string& name);

struct FoundPiece {
  const VehicleSummary* vehicle = nullptr;
  const PieceSummary* piece = nullptr;
};
// "41", "bonnet", "bonnet 2" (the second piece on it), "left front door", "door left front", "bon". Panels
// are looked for on `vehicle`, or on all vehicles in the shop where it is empty. Pieces that were pulled or
// replaced are found by number alone.
[[nodiscard]] FoundPiece find_piece(const Board& board, const CatalogueView& shop,
                                    const wording::Words& words, const std::string& name,
                                    const std::string& vehicle);

// All that a piece is called: by its panel's key or the words of any language, its side, place and part.
[[nodiscard]] std::vector<Naming> namings_of(const CatalogueView& shop, const wording::Words& words,
                                             const PlannedPiece& piece);

// The panel of the catalogue, and its side, that is called so. `own_words`: what is not there, word by word,
// stands as it is.
[[nodiscard]] PlannedPiece find_panel(const CatalogueView& shop, const wording::Words& words,
                                      const std::string& name, bool own_words);

// Takes a vehicle's reference or number off the front of what was typed, where it stands there and more
// follows; else `vehicle`.
[[nodiscard]] std::string take_vehicle(const Board& board, std::vector<std::string>& words,
                                       const std::string& vehicle);

// A piece by its panel, its side and its part.
template <class Piece>
[[nodiscard]] std::string piece_label(const wording::Words& words, const Piece& piece) {
  return words.piece(name_of_piece(piece));
}

// "bonnet on demo-1"
[[nodiscard]] inline std::string on_vehicle(const wording::Words& words, const std::string& piece,
                                            const std::string& vehicle) {
  return words.say("client.piece-on", {say::text("piece", piece), say::text("vehicle", vehicle)});
}

[[nodiscard]] bool in_shop(const VehicleSummary& vehicle);
[[nodiscard]] bool laid_now(const PieceSummary& piece);

}  // namespace dryclock::cli
