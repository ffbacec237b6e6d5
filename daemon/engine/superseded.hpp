// Which events do not count any more because somebody said that they were entered wrongly.
#pragma once

#include <set>
#include <utility>
#include <vector>

#include "domain/types.hpp"

namespace dryclock::engine {

// A correction's own number, and that of the event it supersedes.
using Correction = std::pair<Seq, Seq>;

// `corrections` in journal order. An event is out when a correction that stands supersedes it: taking back a
// correction brings the original into force again.
[[nodiscard]] std::set<Seq> superseded_by(const std::vector<Correction>& corrections);

}  // namespace dryclock::engine
