#include <doctest/doctest.h>

#include <regex>

#include "rules/repository.hpp"

namespace dryclock::rules {
namespace {

// What ties the repository to the machine or network where it was written. A build elsewhere must not want
// it.
Violations traces(const Tree& tree) {
  // Somebody's home, a scratch folder, a root's.
  static const std::regex machine_path{R"((^|[^A-Za-z0-9_.$}/])/(work|root|tmp|home/[a-z][a-z0-9]*)/)"};
  // Where packages come from is the machine's own setting.
  static const std::regex registry{
      R"(https?://([a-z0-9-]+\.)*((registry|registries|npm[a-z]*|pypi|crates|deb|ftp|mirrors?|proxy|snapshot)\.|[0-9.]+:))"};
  static const std::regex loopback{R"(https?://127\.[0-9.]+:)"};
  static const std::regex lock_origin{R"re("resolved": *"https?:)re"};
  Violations violations;
  for (const auto& [path, text] : tree) {
    int number = 0;
    for (const auto view : lines_of(text)) {
      const std::string line{view};
      ++number;
      const auto at = path + ":" + std::to_string(number) + ": ";
      if (std::regex_search(line, machine_path)) {
        violations.push_back(at + "a path of one machine");
      }
      if (std::regex_search(line, lock_origin) ||
          (std::regex_search(line, registry) && !std::regex_search(line, loopback))) {
        violations.push_back(at + "the address of a package registry");
      }
    }
  }
  return violations;
}

}  // namespace

TEST_CASE("no tracked file names a path of one machine or a package registry") {
  CHECK(joined(traces(repository())) == "");
}

TEST_CASE("planted traces are found") {
  const auto found = [](const std::string& line) { return traces({{"planted", "first\n" + line + "\n"}}); };
  // In two parts, so that this file does not break its own rule.
  const std::string slash = "/";
  CHECK(joined(found("cd " + slash + "root/dryclock")) == "planted:2: a path of one machine\n");
  CHECK(found("\"" + slash + "home/ann/film\"").size() == 1);
  CHECK(found("build in " + slash + "tmp/b").size() == 1);
  CHECK(found(slash + "work/main/deploy").size() == 1);
  const std::string scheme = "https:" + slash + slash;
  CHECK(joined(found("\"resolved\": \"" + scheme + "a.example/x.tgz\"")) ==
        "planted:2: the address of a package registry\n");
  CHECK(found("registry=" + scheme + "registry.example.org/").size() == 1);
  CHECK(found(scheme + "mirror.example.org/pool").size() == 1);
  CHECK(found("http:" + slash + slash + "10.1.2.3:4873/page").size() == 1);
}

TEST_CASE("what looks like a trace and is none is let through") {
  CHECK(joined(traces({{"a", "tests/root/x and ./tmp/x and ${HOME}/work/x\n"}})) == "");
  CHECK(joined(traces(
            {{"a", "the page is at http://127.0.0.1:8077/ and https://www.rfc-editor.org/rfc/rfc6901\n"}})) ==
        "");
}

}  // namespace dryclock::rules
