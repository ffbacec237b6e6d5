#include "ingest/topic_filter.hpp"

#include <optional>

namespace dryclock::ingest {
namespace {

// Takes the next level off the front; `rest` is absent after the last one. An empty level is a level.
std::string_view take_level(std::optional<std::string_view>& rest) {
  const std::string_view whole = *rest;
  const std::size_t slash = whole.find('/');
  if (slash == std::string_view::npos) {
    rest.reset();
    return whole;
  }
  rest = whole.substr(slash + 1);
  return whole.substr(0, slash);
}

bool wildcard_inside(std::string_view level) {
  return level.size() > 1 && level.find_first_of("+#") != std::string_view::npos;
}

}  // namespace

bool matches(std::string_view filter, std::string_view topic) {
  if (filter.empty() || topic.empty()) {
    return false;
  }
  if (topic.front() == '$' && (filter.front() == '+' || filter.front() == '#')) {
    return false;
  }
  std::optional<std::string_view> wanted = filter;
  std::optional<std::string_view> found = topic;
  while (wanted) {
    const std::string_view level = take_level(wanted);
    if (level == "#") {
      return !wanted;
    }
    if (!found) {
      return false;
    }
    const std::string_view name = take_level(found);
    if (wildcard_inside(level) || (level != "+" && level != name)) {
      return false;
    }
    if (!found && wanted) {
      return *wanted == "#";  // "a/#" takes "a" itself
    }
  }
  return !found;
}

}  // namespace dryclock::ingest
