#include "engine/superseded.hpp"

#include <ranges>

namespace dryclock::engine {

std::set<Seq> superseded_by(const std::vector<Correction>& corrections) {
  std::set<Seq> out;
  for (const auto& [correction, event] : corrections | std::views::reverse) {  // from the newest back
    if (!out.contains(correction)) {
      out.insert(event);
    }
  }
  return out;
}

}  // namespace dryclock::engine
