// Numbers and instants as devices send them: what decode believes and what propose looks for is read alike.
#pragma once

#include <optional>
#include <string_view>

#include "base/result.hpp"
#include "domain/types.hpp"

namespace dryclock::ingest {

// Blanks around it and one plus before it are passed over. Errors: not_a_number, not_finite.
[[nodiscard]] Result<double, RejectReason> number_in(std::string_view text);

// Seconds or milliseconds since 1970, told apart by their size. Absent: beyond any date.
[[nodiscard]] std::optional<Time> instant_in(double since_1970);

}  // namespace dryclock::ingest
