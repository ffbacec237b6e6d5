// A file of the page, compiled in. http/ serves what it is given; page/ fills the list.
#pragma once

#include <string_view>

namespace dryclock::http {

struct Asset {
  std::string_view path;          // as requested: "/page.js"; "/" for the page itself
  std::string_view content_type;  // "text/html; charset=utf-8"
  std::string_view etag;          // with its quotes; changes with the content
  std::string_view plain;
  std::string_view gzip;  // the same, compressed; never empty
};

}  // namespace dryclock::http
