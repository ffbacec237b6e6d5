// One page for the customer: what was done, what to avoid and until when, what is still drying and how that
// looks, when to come back.
#pragma once

#include <string>

#include "base/result.hpp"
#include "record/paper.hpp"
#include "record/record.hpp"

namespace dryclock::record {

// The same record gives the same bytes. Problem: the library's.
[[nodiscard]] Result<std::string> handover_pdf(const Record& record, Paper paper);

// Until when care is asked for: when the last piece is likely at its full strength, and not before the latest
// estimate (90th percentile) at which a piece that was still on may leave. `beyond`: one of both is not
// within what the outlook reaches (three days).
struct Care {
  bool all_ready = true;
  bool beyond = false;
  std::optional<Time> full_strength;  // where that is still to come
  std::optional<Time> until;
};
[[nodiscard]] Care care_of(const Record& record);

}  // namespace dryclock::record
