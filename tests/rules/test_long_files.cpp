#include <doctest/doctest.h>

#include <map>

#include "rules/repository.hpp"

namespace dryclock::rules {
namespace {

constexpr std::size_t longest = 400;  // lines: what a person still reads in one go

// A line of long_files.txt is a path and the reason why it may be longer.
std::map<std::string, std::string> read_reasons(std::string_view text) {
  std::map<std::string, std::string> reasons;
  for (const auto line : lines_of(text)) {
    const auto words = words_of(line);
    if (!words.empty() && !words.front().starts_with('#')) {
      reasons[words.front()] = words.size() > 1 ? line.substr(line.find(words[1])) : "";
    }
  }
  return reasons;
}

Violations wrong_lengths(const Tree& tree, std::string_view long_files) {
  const auto reasons = read_reasons(long_files);
  Violations violations;
  for (const auto& [path, text] : tree) {
    const auto lines = lines_of(text).size();
    const bool excused = reasons.contains(path);
    if (lines > longest && !excused) {
      violations.push_back(path + ": " + std::to_string(lines) + " lines, and no reason given");
    }
    if (lines <= longest && excused) {
      violations.push_back(path + ": no longer long: take it out of long_files.txt");
    }
  }
  for (const auto& [path, reason] : reasons) {
    if (reason.empty()) {
      violations.push_back(path + ": long_files.txt gives no reason");
    }
    if (!tree.contains(path)) {
      violations.push_back(path + ": long_files.txt names a file that is not there");
    }
  }
  return violations;
}

}  // namespace

TEST_CASE("no file is longer than 400 lines without a reason") {
  CHECK(joined(wrong_lengths(repository(), text_of(repository(), "tests/rules/long_files.txt"))) == "");
}

TEST_CASE("planted lengths and excuses are found") {
  std::string long_text;
  for (std::size_t line = 0; line <= longest; ++line) {
    long_text += "x\n";
  }
  CHECK(joined(wrong_lengths({{"a.cpp", long_text}}, "")) == "a.cpp: 401 lines, and no reason given\n");
  CHECK(joined(wrong_lengths({{"a.cpp", long_text}}, "a.cpp one table, in the order of its source\n")) == "");
  CHECK(wrong_lengths({{"a.cpp", long_text}}, "a.cpp\n").size() == 1);
  CHECK(wrong_lengths({{"a.cpp", "x\n"}}, "a.cpp a table\n").size() == 1);
  CHECK(wrong_lengths({{"b.cpp", "x\n"}}, "a.cpp a table\n").size() == 1);
}

}  // namespace dryclock::rules
