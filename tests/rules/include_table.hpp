// The arrows between folders, as tests/rules/includes.txt states them, and who breaks them.
#pragma once

#include <map>
#include <set>
#include <string>
#include <string_view>

#include "rules/tree.hpp"

namespace dryclock::rules {

struct IncludeTable {
  using Names = std::set<std::string>;
  std::map<std::string, Names> folders;    // folder -> folders or headers of ours that it may include
  std::map<std::string, Names> libraries;  // prefix of others' headers -> folders or .cpp files that may
  std::map<std::string, Names> headers;    // header of ours -> others' headers that it may show
  std::map<std::string, Names> never;      // folder -> standard headers that stay out
  std::map<std::string, Names> rooms;      // room of the page -> rooms that it may import from
};

// Throws std::runtime_error that names the line which is not of the form in the file's own comments.
[[nodiscard]] IncludeTable read_include_table(std::string_view text);

// Every include in models/, daemon/ and deploy/play/ that the table does not allow.
[[nodiscard]] Violations wrong_includes(const Tree& tree, const IncludeTable& table);
// Every library, and every single header of ours, that the table gives to somebody who includes none of it.
[[nodiscard]] Violations unused_arrows(const Tree& tree, const IncludeTable& table);
// Every import between the page's rooms that the table does not allow.
[[nodiscard]] Violations wrong_imports(const Tree& tree, const IncludeTable& table);

}  // namespace dryclock::rules
