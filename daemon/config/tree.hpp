// A configuration or case file as a tree whose every part knows where it stands in the file. TOML and JSON
// both become this, so that one reader and one form of message serve both.
#pragma once

#include <cstdint>
#include <string>
#include <variant>
#include <vector>

namespace dryclock::config {

// TOML tells line and column; JSON's parser does not, so a JSON pointer stands for them.
struct Place {
  std::string file;
  int line = 0, column = 0;
  std::string pointer;
};

// "file:line:column" or "file: /pointer".
[[nodiscard]] inline std::string to_string(const Place& place) {
  if (place.line == 0) {
    return place.file + (place.pointer.empty() ? "" : ": " + place.pointer);
  }
  return place.file + ":" + std::to_string(place.line) + ":" + std::to_string(place.column);
}

struct Node;
struct Member;
using Table = std::vector<Member>;
using List = std::vector<Node>;
struct DateOrTime {};  // TOML has them; no key of ours wants one

struct Node {
  Place place;
  std::variant<Table, List, std::string, std::int64_t, double, bool, DateOrTime> value;
};

struct Member {
  std::string key;
  Place place;  // of the key
  Node node;
};

}  // namespace dryclock::config
