// What a piece is called, as a fact: "left front door", "front bumper, upper half", "bonnet 1/2".
#pragma once

#include <algorithm>
#include <string>

#include "domain/event.hpp"
#include "domain/fact.hpp"
#include "domain/names.hpp"

namespace dryclock {

[[nodiscard]] inline Value side_value(Side side) {
  return say::word("side", "words.side-" + std::string{name_of(side)});
}
// A known place by its word; the user's own as it is.
[[nodiscard]] inline Value place_value(const std::string& place) {
  return std::ranges::find(known_places, place) != known_places.end()
             ? say::word("place", "words.place-" + place)
             : say::text("place", place);
}
[[nodiscard]] inline Fact piece_fact(const PlannedPiece& piece) {
  const auto panel = say::panel("panel", piece.panel);
  if (!piece.place.empty()) {
    return piece.side
               ? Fact{"words.piece-side-place", {panel, side_value(*piece.side), place_value(piece.place)}}
               : Fact{"words.piece-place", {panel, place_value(piece.place)}};
  }
  const auto part = say::text("part", std::to_string(piece.part));
  const auto parts = say::count("parts", piece.parts);
  return piece.side ? Fact{"words.piece-side", {panel, side_value(*piece.side), part, parts}}
                    : Fact{"words.piece", {panel, part, parts}};
}

}  // namespace dryclock
