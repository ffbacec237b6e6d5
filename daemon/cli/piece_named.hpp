// What the commands about pieces share: how a piece is typed, and how it is told of.
#pragma once

#include <string>
#include <vector>

#include "cli/commands.hpp"
#include "cli/naming.hpp"

namespace dryclock::cli {

struct GivenPiece {
  std::vector<std::string> words;
  std::string vehicle;
};

inline constexpr auto piece_help =
    "Its number, or what it is called, in any order, or its beginning: bonnet, left front door, door l f, "
    "bonnet 2; a vehicle's reference may stand before it";

// `words`: with the vehicle before them, where it is named.
[[nodiscard]] inline FoundPiece piece_of(Session& session, std::vector<std::string> words,
                                         const std::string& vehicle) {
  const auto on = take_vehicle(session.board(), words, vehicle);
  return find_piece(session.board(), session.shop(), session.names(), joined(words), on);
}

// "bonnet on demo-1"
[[nodiscard]] inline Value piece_value(const wording::Words& words, const FoundPiece& found) {
  return say::text("piece", on_vehicle(words, piece_label(words, *found.piece), found.vehicle->reference));
}

}  // namespace dryclock::cli
