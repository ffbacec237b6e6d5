// Every figure that a vehicle's estimate rests on, with where it comes from.
#pragma once

#include <vector>

#include "domain/setup.hpp"
#include "record/record.hpp"

namespace dryclock::record {

// Of the films, solutions, panels and zones that stand in `record.pieces`, and of the shop's settings.
[[nodiscard]] std::vector<Parameter> parameters_of(const Record& record, const Setup& setup);

}  // namespace dryclock::record
