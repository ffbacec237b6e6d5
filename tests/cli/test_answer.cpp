#include "cli/answer.hpp"

#include <doctest/doctest.h>

using namespace dryclock;

TEST_CASE("an answer that is not what was agreed says so") {
  CHECK_THROWS_WITH(
      static_cast<void>(cli::understood<Board>(R"({"now":"2026-03-01T06:40:00Z"})")),
      "the daemon's answer is not understood: /applied: is missing; are daemon and client of one "
      "version?");
  CHECK(cli::understood<Permission>(R"({"may_write":true})").may_write);
}
