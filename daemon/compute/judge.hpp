// What is to be said of a milestone, by its chance and by what was said before.
//
// Of film that the shop has confirmed, or a piece that somebody has looked at, "ready" is said at the shop's
// level. Else only a look can tell: it is worth one from an even chance on, where it decides most, and ready
// is not said until somebody has looked. What was said is taken back where the chance has fallen by 0.05
// below its level, which time alone never does; what the user saw is not taken back by an estimate.
#pragma once

#include <optional>
#include <vector>

#include "domain/outlook.hpp"

namespace dryclock::compute {

inline constexpr double look_level = 0.5;
inline constexpr double taken_back_below = 0.05;  // under the level at which it was said

// A milestone that is judged: what was said of it, and whether its film is known or the piece was looked at.
struct Standing {
  Said said;
  bool known = false;
};
[[nodiscard]] Standing standing(const OutlookTask& task, const OutlookTask::Item& piece,
                                models::Milestone which);
// Of the vehicle as a whole: known where every piece is.
[[nodiscard]] Standing release_standing(const OutlookTask& task);

// The chance at which the next word is said; absent: none comes by time alone.
[[nodiscard]] std::optional<double> next_level(const Standing& standing, double announce_level);
// What is to be said now that was not, or is no longer; absent: nothing.
[[nodiscard]] std::optional<Word> word_for(double chance, const Standing& standing, double announce_level);

// Of all milestones that are needed, by the answer's probabilities. The vehicle may leave once nothing is
// planned, the least time indoors is over and nothing condenses; dew alone takes nothing back.
[[nodiscard]] std::vector<Announcement> judge(const OutlookTask& task, const OutlookAnswer& answer);

// When the next word is foreseen, where that is within ten minutes: not sooner than a minute from now.
[[nodiscard]] std::optional<Time> ask_again(const OutlookTask& task, const OutlookAnswer& answer);

}  // namespace dryclock::compute
