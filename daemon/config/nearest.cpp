#include "config/nearest.hpp"

#include <algorithm>

namespace dryclock::config {
namespace {

// Optimal string alignment distance: edits that touch no place twice.
std::size_t distance(std::string_view a, std::string_view b) {
  std::vector<std::vector<std::size_t>> d(a.size() + 1, std::vector<std::size_t>(b.size() + 1));
  for (std::size_t i = 0; i <= a.size(); ++i) {
    for (std::size_t j = 0; j <= b.size(); ++j) {
      if (i == 0 || j == 0) {
        d[i][j] = i + j;
        continue;
      }
      const std::size_t change = a[i - 1] == b[j - 1] ? 0 : 1;
      d[i][j] = std::min({d[i - 1][j] + 1, d[i][j - 1] + 1, d[i - 1][j - 1] + change});
      if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1]) {
        d[i][j] = std::min(d[i][j], d[i - 2][j - 2] + 1);
      }
    }
  }
  return d[a.size()][b.size()];
}

}  // namespace

std::string nearest(std::string_view word, const std::vector<std::string_view>& candidates) {
  std::string_view best;
  std::size_t least = std::max<std::size_t>(2, word.size() / 3) + 1;
  for (const auto candidate : candidates) {
    // A key without its unit is near, however long the unit.
    const bool begins_like = word.size() >= 3 && candidate.starts_with(word);
    const auto edits = begins_like ? 1 : distance(word, candidate);
    // A word that shares no letter is no suggestion, however short.
    if (edits < least && edits < std::max(word.size(), candidate.size())) {
      least = edits;
      best = candidate;
    }
  }
  return std::string(best);
}

std::string did_you_mean(std::string_view word, const std::vector<std::string_view>& candidates) {
  const auto near = nearest(word, candidates);
  return near.empty() ? "" : ", did you mean \"" + near + "\"?";
}

}  // namespace dryclock::config
