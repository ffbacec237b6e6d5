// Vehicles of all years, by what their events tell: reference, plate, panel, side, film, lot, date, lifting.
#pragma once

#include "base/local_time.hpp"
#include "domain/search.hpp"
#include "domain/setup.hpp"
#include "history/dates.hpp"
#include "store/reader.hpp"

namespace dryclock::record {

// Newest first. A word of the query is found within the reference, the plate (which is not told again), or
// the date, of a vehicle; else, with all other such words, within what one piece is called in any language,
// its film and its lot. Days are `zone`'s. Problem: the database.
[[nodiscard]] Result<SearchAnswer> search(const store::Reader& reader, const history::Dates& dates,
                                          const Setup& setup, const LocalZone& zone, const SearchQuery& query,
                                          Time now);

}  // namespace dryclock::record
