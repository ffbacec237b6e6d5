// What the rules look at: the repository as paths and texts. Real ones come from git, planted ones from
// tests.
#pragma once

#include <filesystem>
#include <map>
#include <string>
#include <string_view>
#include <vector>

namespace dryclock::rules {

// Path from the repository's top -> text.
using Tree = std::map<std::string, std::string>;
// Sentences that say which file breaks the rule, and how; empty: none does.
using Violations = std::vector<std::string>;
// One a line, so that a failed check shows them.
[[nodiscard]] std::string joined(const Violations& violations);

// The files that git tracks below `top`, as they are on disk now. Throws std::runtime_error without git.
[[nodiscard]] Tree tracked_files(const std::filesystem::path& top);

// A tracked file of the repository; throws std::runtime_error where it is missing.
[[nodiscard]] const std::string& text_of(const Tree& tree, const std::string& path);

[[nodiscard]] std::vector<std::string_view> lines_of(std::string_view text);
[[nodiscard]] std::vector<std::string> words_of(std::string_view line);

}  // namespace dryclock::rules
