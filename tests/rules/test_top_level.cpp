#include <doctest/doctest.h>

#include <set>

#include "rules/repository.hpp"

namespace dryclock::rules {
namespace {

// A new entry here is a new room of the house: say in DEVELOPERS.md what it is for.
const std::set<std::string> allowed_at_top{".ci",
                                           ".clang-format",
                                           ".clang-tidy",
                                           ".cmake",
                                           ".gitignore",
                                           "CMakeLists.txt",
                                           "CMakePresets.json",
                                           "DEVELOPERS.md",
                                           "LICENSE",
                                           "README.md",
                                           "config",
                                           "daemon",
                                           "deploy",
                                           "models",
                                           "tests"};

Violations strangers_at_top(const Tree& tree) {
  std::set<std::string> strangers;
  for (const auto& [path, text] : tree) {
    const auto name = path.substr(0, path.find('/'));
    if (!allowed_at_top.contains(name)) {
      strangers.insert(name);
    }
  }
  return {strangers.begin(), strangers.end()};
}

}  // namespace

TEST_CASE("the top level holds only what it should") {
  CHECK(joined(strangers_at_top(repository())) == "");
}

TEST_CASE("a planted stranger at the top is found, once") {
  const Tree tree{{"README.md", ""}, {"notes.txt", ""}, {"scratch/a", ""}, {"scratch/b", ""}};
  CHECK(joined(strangers_at_top(tree)) == "notes.txt\nscratch\n");
}

}  // namespace dryclock::rules
