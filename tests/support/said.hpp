// A fact in words, as a shop reads it.
#pragma once

#include <string>

#include "wording/words.hpp"

namespace dryclock::support {

[[nodiscard]] inline wording::Words words(Manner manner = {}, const wording::Entries& entries = {}) {
  return {manner, entries, LocalZone::find("UTC").value()};
}
[[nodiscard]] inline std::string said(const Fact& fact, Manner manner = {}) {
  return words(manner).fact(fact);
}

}  // namespace dryclock::support
