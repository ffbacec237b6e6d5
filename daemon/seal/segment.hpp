// Reading a segment back: only the row numbers matter to the seal.
#pragma once

#include <string_view>
#include <vector>

#include "base/result.hpp"
#include "domain/types.hpp"

namespace dryclock::seal {

// The numbers of its rows, in the file's order. Problem: a line that is no sealed row, rows not in ascending
// order.
[[nodiscard]] Result<std::vector<Seq>> seqs_of_segment(std::string_view text);

}  // namespace dryclock::seal
