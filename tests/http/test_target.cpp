#include <doctest/doctest.h>

#include "http/target.hpp"

namespace dryclock::http {
namespace {

using Segments = std::vector<std::string>;

}  // namespace

TEST_CASE("a path is cut at slashes, then decoded") {
  CHECK(parse_target("/").value().segments.empty());
  CHECK(parse_target("/a/b").value().segments == Segments{"a", "b"});
  CHECK(parse_target("/a/").value().segments == Segments{"a", ""});
  CHECK(parse_target("//").value().segments == Segments{"", ""});
  CHECK(parse_target("/bays/bay%20one%2Ftwo/air").value().segments == Segments{"bays", "bay one/two", "air"});
  CHECK(parse_target("/..%2f../etc").value().segments == Segments{"../..", "etc"});
}

TEST_CASE("parameters are decoded, and plus stays plus") {
  const auto target = parse_target("/x?from=2026-03-01T07:00:00+01:00&every=5&flag").value();
  CHECK(target.query.at("from") == "2026-03-01T07:00:00+01:00");
  CHECK(target.query.at("every") == "5");
  CHECK(target.query.at("flag").empty());
  CHECK(parse_target("/x?a=%26%3D").value().query.at("a") == "&=");
}

TEST_CASE("the absolute form gives its host") {
  const auto target = parse_target("http://localhost:80/a?b=c").value();
  CHECK(target.host == "localhost:80");
  CHECK(target.segments == Segments{"a"});
  CHECK(target.query.at("b") == "c");
  CHECK(parse_target("HTTP://localhost").value().segments.empty());
}

TEST_CASE("what is no target is a problem") {
  for (const auto* bad : {"", "a", "*", "localhost:80", "/%", "/%4", "/%zz", "/%00", "/a b", "/\x7f", "/\xff",
                          "/x?a=1&a=2", "/x?%=1", "http://", "http:///x", "https://localhost/"}) {
    CAPTURE(bad);
    CHECK(parse_target(bad).has_error());
  }
}

}  // namespace dryclock::http
