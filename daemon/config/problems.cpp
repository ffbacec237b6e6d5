#include "config/problems.hpp"

#include <algorithm>
#include <map>
#include <tuple>

namespace dryclock::config {

std::vector<Problem> Problems::sorted(std::vector<Found> found) {
  std::map<std::string, std::size_t> rank;
  for (const auto& one : found) {
    rank.try_emplace(one.place.file, rank.size());
  }
  std::stable_sort(found.begin(), found.end(), [&](const Found& a, const Found& b) {
    return std::tuple(rank[a.place.file], a.place.line, a.place.column) <
           std::tuple(rank[b.place.file], b.place.line, b.place.column);
  });
  std::vector<Problem> problems;
  problems.reserve(found.size());
  for (const auto& one : found) {
    problems.push_back({one.what, to_string(one.place)});
  }
  return problems;
}

}  // namespace dryclock::config
