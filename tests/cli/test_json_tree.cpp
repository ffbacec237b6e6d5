#include "cli/json_tree.hpp"

#include <doctest/doctest.h>

using namespace dryclock;

TEST_CASE("places are JSON pointers, with / and ~ escaped [RFC 6901 section 3]") {
  config::Problems problems;
  const auto tree = cli::parse_json(R"({"a/b": [1, {"m~n": 2.5}]})", "c.json", problems);
  REQUIRE(tree.has_value());
  const auto& list = std::get<config::List>(std::get<config::Table>(tree->value)[0].node.value);
  CHECK(std::get<std::int64_t>(list[0].value) == 1);
  const auto& inner = std::get<config::Table>(list[1].value)[0];
  CHECK(std::get<double>(inner.node.value) == 2.5);
  CHECK(config::to_string(inner.place) == "c.json: /a~1b/1/m~0n");
}

TEST_CASE("text that is not JSON is one problem with its line") {
  for (const auto* text : {"{\n \"a\": }", "{} {}", "{\"a\": 1", ""}) {
    CAPTURE(text);
    config::Problems problems;
    CHECK_FALSE(cli::parse_json(text, "c.json", problems).has_value());
    REQUIRE(problems.sorted().size() == 1);
    CHECK(problems.sorted()[0].what.starts_with("not JSON: "));
    CHECK(problems.sorted()[0].where.starts_with("c.json:"));
  }
  config::Problems problems;
  (void)cli::parse_json("{\n \"a\": }", "c.json", problems);
  CHECK(problems.sorted()[0].where == "c.json:2:7");
}
