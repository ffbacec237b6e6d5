// A film's layers, as films.toml and case files write them.
#pragma once

#include "config/section.hpp"
#include "models/catalogue.hpp"

namespace dryclock::config {

// The [[...layer]] tables of `film`, from the adhesive outwards. A film without any is complained of.
[[nodiscard]] models::FilmStack read_stack(Section& film);

}  // namespace dryclock::config
