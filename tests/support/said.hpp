// A fact in words, as a shop reads it.
#pragma once

#include <string>
#include <vector>

#include "wording/words.hpp"

namespace dryclock::support {

[[nodiscard]] inline wording::Words words(Manner manner = {}, const std::vector<PanelEntry>& panels = {}) {
  return {manner, panels, LocalZone::find("UTC").value()};
}
[[nodiscard]] inline std::string said(const Fact& fact, Manner manner = {}) {
  return words(manner).fact(fact);
}

}  // namespace dryclock::support
