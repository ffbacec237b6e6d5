// What people call things: vehicles by reference or number, pieces by number or panel, panels by the word of
// any language. Every failure is Failure{usage} and lists what there is, panels in the words of `words`.
#pragma once

#include <string>

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
// "41", "bonnet", "bonnet 2" (the second piece on it), "front bumper 2". Panels are looked for on `vehicle`,
// or on all vehicles in the shop where it is empty. Pieces that were pulled or replaced are found by number
// alone.
[[nodiscard]] FoundPiece find_piece(const Board& board, const CatalogueView& shop,
                                    const wording::Words& words, const std::string& name,
                                    const std::string& vehicle);

// The catalogue's key for a key or for a word of any language. `own_words`: what is not there stands as it
// is.
[[nodiscard]] std::string find_panel(const CatalogueView& shop, const std::string& name, bool own_words);

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
