// Whether pieces lie on the same panel, and on the same part of it.
#pragma once

#include "domain/event.hpp"

namespace dryclock::engine {

// Of one panel: the same side, or nobody said which.
[[nodiscard]] inline bool is_beside(const Lay& other, const Lay& lay) {
  return other.panel == lay.panel && (!other.side || !lay.side || other.side == lay.side);
}
// Parts of as many that differ lie side by side.
[[nodiscard]] inline bool is_in_the_way(const Lay& other, const Lay& lay) {
  return is_beside(other, lay) && (other.parts != lay.parts || other.part == lay.part);
}

}  // namespace dryclock::engine
