// The doctest cases that a test source declares, read from its text.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace dryclock::rules {

struct TestCase {
  std::string suite;  // empty: in none
  std::string name;
};

// In order. Knows TEST_SUITE("..."){...}, TEST_SUITE_BEGIN/END and names given as several literals.
[[nodiscard]] std::vector<TestCase> test_cases_in(std::string_view source);

// The `Key` of every "[Key: table or equation]" in a name.
[[nodiscard]] std::vector<std::string> source_keys_in(std::string_view name);

}  // namespace dryclock::rules
