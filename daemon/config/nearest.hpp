// "Did you mean ...?"
#pragma once

#include <algorithm>
#include <string>
#include <string_view>
#include <vector>

namespace dryclock::config {

// The candidate with the fewest letters added, dropped, changed or swapped with their neighbour; empty when
// none is near enough to be what was meant (more than two letters and a third of the word differ, unless it
// begins like the candidate).
[[nodiscard]] std::string nearest(std::string_view word, const std::vector<std::string_view>& candidates);

// What each of the entries is called.
template <class Entry>
[[nodiscard]] std::vector<std::string_view> names_of(const std::vector<Entry>& entries,
                                                     std::string Entry::*name) {
  std::vector<std::string_view> names(entries.size());
  std::ranges::transform(entries, names.begin(), name);
  return names;
}

// ", did you mean \"...\"?", or nothing.
[[nodiscard]] std::string did_you_mean(std::string_view word,
                                       const std::vector<std::string_view>& candidates);

}  // namespace dryclock::config
