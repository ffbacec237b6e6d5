// What waits for somebody: for the board, over all vehicles.
#pragma once

#include <vector>

#include "domain/view.hpp"
#include "engine/shop.hpp"

namespace dryclock::engine {

// Of what `board` tells of vehicles and alerts; longest first.
[[nodiscard]] std::vector<Wait> waits_of(const Board& board, const Shop& shop);

}  // namespace dryclock::engine
