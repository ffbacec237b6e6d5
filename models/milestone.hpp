// What a hand may do next to a piece of film, and what that asks of its zones.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>

#include "models/catalogue.hpp"
#include "models/reach.hpp"

namespace dryclock::models {

// liquid_gone  a tenth of no zone is wet any more
// wrap_ready   the edge's liquid gone, its moisture low; the field's bond holds while the edge is pulled
// trim_ready   the edge's liquid gone, its moisture lower, its own bond holds
// refit_ready  liquid gone in every zone, every bond holds a part that rubs
// clear        hardly anything wet anywhere
// may_leave    edges clear and held; elsewhere no more than closed pockets
enum class Milestone : std::uint8_t { liquid_gone, wrap_ready, trim_ready, refit_ready, clear, may_leave };
inline constexpr std::size_t milestone_kinds = 6;

// What counts as reached: shares of a zone's area that are wet, moisture still in the film as a share of what
// it holds over liquid, share of the final bond. All of them configurable. Assumptions, set so that common
// practice comes out (no source).
struct Thresholds {
  double gone_wet = 0.10;    // a zone's liquid counts as gone below this
  double clear_wet = 0.05;   // nothing to be seen
  double pocket_wet = 0.20;  // closed pockets inside, which go harmlessly in days
  double wrap_excess = 0.25, wrap_bond = 0.50;
  double trim_excess = 0.15, trim_bond = 0.60;
  double refit_bond = 0.60;
  double leave_bond = 0.60;     // of the edges
  double strength_bond = 0.90;  // "full strength": a date with advice, never a gate
  bool operator==(const Thresholds&) const = default;
};

// What a milestone asks of a zone of this kind. A piece without edges is asked at its other zones; one
// without a field holds by its edges.
[[nodiscard]] ZoneAsks asks_of(const Thresholds& thresholds, Milestone which, ZoneKind kind, bool has_edge,
                               bool has_field);

}  // namespace dryclock::models
