#include "config/problems.hpp"

#include <algorithm>
#include <map>
#include <tuple>

namespace dryclock::config {

std::vector<Problem> Problems::sorted() const {
  std::map<std::string, std::size_t> rank;
  for (const auto& found : found_) {
    rank.try_emplace(found.place.file, rank.size());
  }
  auto ordered = found_;
  std::stable_sort(ordered.begin(), ordered.end(), [&](const Found& a, const Found& b) {
    return std::tuple(rank[a.place.file], a.place.line, a.place.column) <
           std::tuple(rank[b.place.file], b.place.line, b.place.column);
  });
  std::vector<Problem> problems;
  problems.reserve(ordered.size());
  for (const auto& found : ordered) {
    problems.push_back({found.what, to_string(found.place)});
  }
  return problems;
}

}  // namespace dryclock::config
