#include "config/section.hpp"

#include <doctest/doctest.h>

#include "config/toml_tree.hpp"
#include "support/config_files.hpp"

using namespace dryclock;
using config::Problems;
using config::Section;

namespace {

config::Node tree_of(std::string_view text) {
  Problems problems;
  auto tree = config::parse_toml(text, "t", problems);
  REQUIRE(tree.has_value());
  return *tree;
}

}  // namespace

TEST_CASE("each kind of value, and what a wrong one is called") {
  const auto tree = tree_of(
      "n = 2\nx = 2.5\nf = true\ns = \"word\"\nd = 2026-03-01\nl = [1, 2.5]\nt = {a = 1}\ne = \"\"\n");
  Problems problems;
  Section section(tree, problems);
  CHECK(section.number("n", 0, {0, 9}) == 2.0);
  CHECK(section.number("x", 0, {0, 9}) == 2.5);
  CHECK(section.number("absent", 7, {0, 9}) == 7.0);
  CHECK(section.whole("n", 0, 0, 9) == 2);
  CHECK(section.flag("f", false));
  CHECK(section.text("s") == "word");
  CHECK(section.numbers("l", {0, 9}) == std::vector<double>{1.0, 2.5});
  CHECK(problems.empty());

  CHECK(section.whole("x", 3, 0, 9) == 3);
  CHECK(section.number("s", 4, {0, 9}) == 4.0);
  CHECK(section.flag("d", true));
  CHECK(section.text("t", "usual") == "usual");
  CHECK(section.texts("n").empty());
  (void)section.needed_text("e");
  (void)section.section("f");
  section.finish();
  std::vector<std::string> lines;
  for (const auto& problem : problems.sorted()) {
    lines.push_back(to_string(problem));
  }
  CHECK(test::joined(lines) == test::joined({
                                   "t:1:5: n: a list of texts is expected, not 2",
                                   "t:2:5: x: a whole number is expected, not 2.5",
                                   "t:3:5: a table is expected, not true",
                                   "t:4:5: s: a number is expected, not text \"word\"",
                                   "t:5:5: d: true or false is expected, not a date or time",
                                   "t:7:5: t: text in quotes is expected, not a table",
                                   "t:8:5: e: must not be empty",
                               }));
}

TEST_CASE("not a number and infinity are outside every bound") {
  const auto tree = tree_of("a = nan\nb = inf\n");
  Problems problems;
  Section section(tree, problems);
  CHECK(section.number("a", 1, {-1e300, 1e300}) == 1.0);
  CHECK(section.number("b", 1, {-1e300, 1e300}) == 1.0);
  CHECK(problems.sorted().size() == 2);
}

TEST_CASE("words of an enumeration") {
  const auto tree = tree_of("q = \"air-speed\"\nbad = \"speed\"\nzones = [\"edge\", \"field\"]\n");
  Problems problems;
  Section section(tree, problems);
  CHECK(section.word("q", Quantity::air_temperature) == Quantity::air_speed);
  CHECK(section.word_list<models::ZoneKind>("zones") ==
        std::vector{models::ZoneKind::edge, models::ZoneKind::field});
  CHECK(section.word("bad", Quantity::relative_humidity) == Quantity::relative_humidity);
  REQUIRE(problems.sorted().size() == 1);
  CHECK(problems.sorted()[0].what ==
        "bad: \"speed\" is none of \"air-temperature\", \"relative-humidity\", \"panel-temperature\", "
        "\"air-speed\"");
}
