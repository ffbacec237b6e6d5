// What was seen at a piece, with what its film had drunk by then: so that it can be weighed without the
// piece, and kept when the piece has long left.
#pragma once

#include <cstddef>
#include <vector>

#include "models/inspection.hpp"
#include "models/laid_piece.hpp"
#include "models/lanes.hpp"
#include "models/reach.hpp"

namespace dryclock::models {

// What was seen at one zone of a piece, so long after lay.
struct Look {
  std::size_t zone = 0;
  double seconds = 0.0;
  Sign sign = Sign::wet;
  bool operator==(const Look&) const = default;
};

struct Seen {
  Sign sign = Sign::wet;
  double seconds = 0.0;        // since lay
  Lanes drunk{};               // by the film until then, g/m2
  double front_squared = 0.0;  // of the margin then [m2], as FilmCourse has it
  bool operator==(const Seen&) const = default;
};

struct ZoneEvidence {
  double usual = 0.0;      // g/m2 right after the squeegee, the middle of what usual hands leave
  Margin margin;           // for the usual shop
  std::vector<Seen> seen;  // in order of time
  bool operator==(const ZoneEvidence&) const = default;
};

struct PieceEvidence {
  std::vector<ZoneEvidence> zones;  // all of the piece's, in its order
  bool operator==(const PieceEvidence&) const = default;
};

// What the film of that zone had drunk by then.
[[nodiscard]] Seen seen_at(const LaidPiece& piece, const Look& look);
// Comes after what the zone has; within ten minutes it replaces the last of the same sort.
void add(ZoneEvidence& zone, const Seen& seen);
// `looks` in order of time.
[[nodiscard]] PieceEvidence evidence(const LaidPiece& piece, const std::vector<Look>& looks);

}  // namespace dryclock::models
