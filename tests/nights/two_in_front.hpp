// The small shop, with a second sensor in one bay.
#pragma once

#include "support/small_shop.hpp"

namespace dryclock::nights {

// "side" hangs in bay front as well.
[[nodiscard]] inline Setup two_in_front() {
  auto setup = support::small_shop();
  for (std::size_t i = 0; i < 2; ++i) {
    auto mapping = setup.mappings[i];
    mapping.sensor = "side";
    mapping.topic = "bays/side";
    setup.mappings.push_back(mapping);
  }
  return setup;
}

}  // namespace dryclock::nights
