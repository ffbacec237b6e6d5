// What the shop has shown so far, in figures that people can judge.
#pragma once

#include "domain/learned_view.hpp"
#include "engine/lessons.hpp"

namespace dryclock::engine {

[[nodiscard]] LearnedView learned(Lessons& lessons, const Shop& shop, const PlateRegistry& plates,
                                  Millis bridge_after);

}  // namespace dryclock::engine
