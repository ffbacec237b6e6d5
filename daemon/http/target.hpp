// A request target taken apart: decoded path segments and query parameters.
#pragma once

#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"

namespace dryclock::http {

struct Target {
  std::vector<std::string> segments;  // of the path, percent-decoded; "/" has none
  std::map<std::string, std::string> query;
  std::string host;  // of the absolute form ("http://host/path"), with its port; else empty
};

// Problems: characters no target may hold, a broken percent escape, NUL, a parameter given twice, a form
// other than origin or absolute. '+' stays '+': times hold it.
[[nodiscard]] Result<Target> parse_target(std::string_view target);

}  // namespace dryclock::http
