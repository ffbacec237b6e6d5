// One page for the customer when a vehicle comes in: what was left and when, the agreed hand-over, what is to
// be laid, and the newest checkpoint's hash. Printed and given away, that hash is what binds the shop itself:
// whoever holds it can tell a log that was cut short or made anew.
#pragma once

#include <string>

#include "base/result.hpp"
#include "record/paper.hpp"
#include "record/record.hpp"

namespace dryclock::record {

// The same record gives the same bytes. Problem: the library's.
[[nodiscard]] Result<std::string> receipt_pdf(const Record& record, Paper paper);

}  // namespace dryclock::record
