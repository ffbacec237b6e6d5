// Gathers what is wrong, so that reading can go on to the next mistake.
#pragma once

#include <string>
#include <vector>

#include "base/problem.hpp"
#include "config/tree.hpp"

namespace dryclock::config {

class Problems {
 public:
  void add(const Place& place, std::string what) { found_.push_back({place, std::move(what)}); }
  [[nodiscard]] bool empty() const { return found_.empty(); }
  // All of them by file (in the order the files were first complained of), line and column.
  [[nodiscard]] std::vector<Problem> sorted() const;

 private:
  struct Found {
    Place place;
    std::string what;
  };
  std::vector<Found> found_;
};

}  // namespace dryclock::config
