// The record for people: summary, plots, what is missing, figures and sources, what it shows and what it does
// not.
#pragma once

#include <string>

#include "base/result.hpp"
#include "record/paper.hpp"
#include "record/record.hpp"

namespace dryclock::record {

// The same record gives the same bytes. Problem: the library's.
[[nodiscard]] Result<std::string> pdf(const Record& record, Paper paper);

}  // namespace dryclock::record
