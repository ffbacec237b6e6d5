// "Did you mean ...?"
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace dryclock::config {

// The candidate with the fewest letters added, dropped, changed or swapped with their neighbour; empty when
// none is near enough to be what was meant (more than two letters and a third of the word differ, unless it
// begins like the candidate).
[[nodiscard]] std::string nearest(std::string_view word, const std::vector<std::string_view>& candidates);

// ", did you mean \"...\"?", or nothing.
[[nodiscard]] std::string did_you_mean(std::string_view word,
                                       const std::vector<std::string_view>& candidates);

}  // namespace dryclock::config
