// Journal rows applied again by a new engine, as after a restart.
#pragma once

#include <string>
#include <vector>

#include "domain/setup.hpp"
#include "domain/types.hpp"

namespace dryclock::nights {

// What was told outside, each kind in its order: which call told it depends on how time was cut.
struct Told {
  std::string readings, milestones, releases, gaps, alerts;
  bool operator==(const Told&) const = default;
};
struct Replayed {
  std::string board;  // fingerprint at `until`
  Told told;
};
// `cut`: time also passes by itself in steps of so long between the rows; zero: rows alone.
[[nodiscard]] Replayed replay(const Setup& setup, const std::vector<JournalRow>& rows, Time until,
                              Millis cut = Millis{0});

}  // namespace dryclock::nights
