// Journal rows applied again by a new engine, as after a restart.
#pragma once

#include <string>
#include <vector>

#include "domain/setup.hpp"
#include "domain/types.hpp"

namespace dryclock::nights {

// What was reported, each kind in its order: which call reported it depends on how time was cut.
struct Reported {
  std::string readings, milestones, releases, gaps, alerts;
  bool operator==(const Reported&) const = default;
};
struct Replayed {
  std::string board;  // fingerprint at `until`
  Reported reported;
};
// `cut`: time also passes by itself in steps of so long between the rows; zero: rows alone.
[[nodiscard]] Replayed replay(const Setup& setup, const std::vector<JournalRow>& rows, Time until,
                              Millis cut = Millis{0});

}  // namespace dryclock::nights
