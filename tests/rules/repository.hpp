// The repository under test: this one.
#pragma once

#include "rules/tree.hpp"

namespace dryclock::rules {

[[nodiscard]] inline const Tree& repository() {
  static const Tree tree = tracked_files(DRYCLOCK_SOURCE_DIR);
  return tree;
}

}  // namespace dryclock::rules
