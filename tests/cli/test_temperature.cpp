#include "cli/temperature.hpp"

#include <doctest/doctest.h>

using namespace dryclock::cli;

// Exact by definition: F = 1.8 C + 32; the scales meet at -40.
TEST_CASE("temperatures as people type them") {
  CHECK(parse_temperature("21").value() == 21.0);
  CHECK(parse_temperature("21.5C").value() == 21.5);
  CHECK(parse_temperature("-4 C").value() == -4.0);
  CHECK(parse_temperature("32F").value() == 0.0);
  CHECK(parse_temperature("212f").value() == 100.0);
  CHECK(parse_temperature("-40F").value() == -40.0);
}

TEST_CASE("what is no temperature") {
  for (const auto* text : {"", "warm", "21K", "21 C C", "nan", "1e5", "-100"}) {
    CAPTURE(text);
    CHECK(parse_temperature(text).has_error());
  }
}
