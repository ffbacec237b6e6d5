// The members of an ensemble side by side: one double each.
#pragma once

#include <array>
#include <cstddef>

namespace dryclock::models {

inline constexpr std::size_t members = 32;
using Lanes = std::array<double, members>;

}  // namespace dryclock::models
