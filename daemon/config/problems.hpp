// Gathers what is wrong, so that reading can go on to the next mistake; and what is only out of date.
#pragma once

#include <string>
#include <vector>

#include "base/problem.hpp"
#include "config/tree.hpp"

namespace dryclock::config {

class Problems {
 public:
  void add(const Place& place, std::string what) { found_.push_back({place, std::move(what)}); }
  // Of what can be read all the same: it is told, and nothing fails for it.
  void warn(const Place& place, std::string what) { warned_.push_back({place, std::move(what)}); }
  [[nodiscard]] bool empty() const { return found_.empty(); }
  // All of them by file (in the order the files were first complained of), line and column.
  [[nodiscard]] std::vector<Problem> sorted() const { return sorted(found_); }
  [[nodiscard]] std::vector<Problem> warnings() const { return sorted(warned_); }

 private:
  struct Found {
    Place place;
    std::string what;
  };
  [[nodiscard]] static std::vector<Problem> sorted(std::vector<Found> found);

  std::vector<Found> found_, warned_;
};

}  // namespace dryclock::config
