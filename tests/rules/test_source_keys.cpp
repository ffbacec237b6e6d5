#include <doctest/doctest.h>

#include <set>

#include "rules/repository.hpp"
#include "rules/test_cases.hpp"

namespace dryclock::rules {
namespace {

// The first cells of the rows of SOURCES.md.
std::set<std::string> known_keys(std::string_view sources) {
  std::set<std::string> keys;
  for (const auto line : lines_of(sources)) {
    const auto words = words_of(line);
    if (words.size() > 1 && words[0] == "|") {
      std::string key;
      for (std::size_t i = 1; i < words.size() && words[i] != "|"; ++i) {
        key += (i == 1 ? "" : " ") + words[i];
      }
      keys.insert(key.front() == '`' ? key.substr(1, key.size() - 2) : key);
    }
  }
  return keys;
}

Violations wrong_source_keys(const Tree& tree, const std::set<std::string>& known) {
  Violations violations;
  for (const auto& [path, text] : tree) {
    // The rules' own tests plant such names.
    if (!path.starts_with("tests/") || !path.ends_with(".cpp") || path.starts_with("tests/rules/")) {
      continue;
    }
    for (const auto& [suite, name] : test_cases_in(text)) {
      const auto keys = source_keys_in(name);
      if (suite == "published" && keys.empty()) {
        violations.push_back(path + ": \"" + name + "\" is in suite published and names no source");
      }
      for (const auto& key : keys) {
        if (!known.contains(key)) {
          violations.push_back(path + ": \"" + name + "\": models/SOURCES.md has no row for " + key);
        }
      }
    }
  }
  return violations;
}

}  // namespace

TEST_CASE("every source that a test names has its row in models/SOURCES.md") {
  const auto known = known_keys(text_of(repository(), "models/SOURCES.md"));
  CHECK(joined(wrong_source_keys(repository(), known)) == "");
}

TEST_CASE("planted tests without a known source are found") {
  const auto known =
      known_keys("| key | what |\n| --- | --- |\n| `Crank-1975` | plane sheet |\n| ASHRAE 2017 | air |\n");
  const auto found = [&](const std::string& source) {
    return wrong_source_keys({{"tests/models/test_planted.cpp", source}}, known).size();
  };
  CHECK(found(R"(TEST_CASE("uptake [Crank-1975: table 4.1]") {})") == 0);
  CHECK(found(R"(TEST_CASE("dew point [ASHRAE 2017: eq 39]") {})") == 0);
  CHECK(found(R"(TEST_CASE("uptake [Crank-1957: table 4.1]") {})") == 1);
  CHECK(found(R"(TEST_CASE("uptake "
                           "[Nobody: p. 3]") {})") == 1);
  CHECK(found(R"(TEST_CASE("both [Crank-1975: eq 4] [Nobody: eq 1]") {})") == 1);
  CHECK(found(R"(TEST_SUITE("published") { TEST_CASE("no source") { CHECK(1'000 == '{'); } })") == 1);
  CHECK(found(R"(TEST_SUITE_BEGIN("published"); TEST_CASE("no source") {} TEST_SUITE_END();)") == 1);
  CHECK(found(R"(TEST_SUITE("published") { /* } */ } TEST_CASE("outside the suite") {})") == 0);
  CHECK(found(R"(TEST_CASE("an interval [0, 1] is no source") {})") == 0);
}

}  // namespace dryclock::rules
